/** Random rows for the spread of supplies, the mixed-integer program that each is held against, and a greedy rule. */
import type { LoadRow } from '../../src/figures/spread.ts';
import { numbers, solveProgram } from './outside.ts';

export interface SpreadCase {
  readonly row: LoadRow;
  readonly count: number;
}

/** A row of up to `most` loads: drivers of several strengths, quiet cells between, some slots closed, some cuts fixed. */
export function randomCase(seed: number, most: number): SpreadCase {
  const random = numbers(seed);
  const n = 3 + Math.floor(random() * (most - 2));
  const closed = random() < 0.5;
  const strengths = [0, 0, 2, 4, 4, 8, 12.5, 24];
  const loads = Array.from({ length: n }, () => strengths[Math.floor(random() * strengths.length)] ?? 0);
  const places = Array.from({ length: closed ? n : n + 1 }, (_, i) => i);
  const allowed = places.filter(() => random() < 0.8);
  const fixed = random() < 0.4 ? places.filter(() => random() < 0.1) : [];
  const count = 1 + Math.floor(random() * Math.min(6, n / 2));
  return { row: { loads, closed, allowed, fixed }, count };
}

/** The worst stretch that a set of cuts leaves. */
export function worstStretch({ loads, closed, fixed }: LoadRow, cuts: readonly number[]): number {
  const all = new Set([...cuts, ...fixed]);
  const sum = (list: readonly number[]): number => list.reduce((total, load) => total + load, 0);
  const stretches: number[][] = [[]];
  for (const [i, load] of loads.entries()) {
    if (all.has(i)) stretches.push([]);
    stretches.at(-1)?.push(load);
  }
  const sums = stretches.map(sum);
  if (closed && all.size > 0) sums.push((sums.pop() ?? 0) + (sums.shift() ?? 0));
  return Math.max(0, ...sums);
}

/** The least worst stretch as a mixed-integer program: a window carries no more than B unless a cut lies inside it. */
export function optimum({ row, count }: SpreadCase): number {
  const { loads, closed, allowed, fixed } = row;
  const n = loads.length;
  const free = allowed.filter((p) => !fixed.includes(p));
  const walls = [...new Set([...free, ...fixed, ...(closed ? [] : [0, n])])].sort((a, b) => a - b);
  const total = loads.reduce((sum, load) => sum + load, 0);
  if (closed && (walls.length === 0 || (fixed.length === 0 && free.length === 0))) return total;
  const rows: string[] = [];
  const span = walls.length;
  for (const [i, from] of walls.entries()) {
    let load = 0;
    let at = from;
    const inside: number[] = [];
    for (let k = 1; k <= (closed ? span : span - 1 - i); k++) {
      const to = walls[(i + k) % span] ?? 0;
      do {
        load += loads[at] ?? 0;
        at = closed ? (at + 1) % n : at + 1;
      } while (at !== to);
      const terms = inside.map((p) => ` + ${load} y${p}`).join('');
      rows.push(` w${from}_${k}: B${terms} >= ${load}`);
      if (fixed.includes(to)) break;
      inside.push(to);
    }
  }
  const open = free.length > 0 ? [` n: ${free.map((p) => `y${p}`).join(' + ')} <= ${count}`] : [];
  const solved = solveProgram(
    ['Minimize', ' obj: B', 'Subject To', ...rows, ...open, 'Bounds', ' B >= 0']
      .concat(free.length > 0 ? ['Binaries', ` ${free.map((p) => `y${p}`).join(' ')}`] : [])
      .concat('End', '')
      .join('\n'),
  );
  if (!solved) throw new Error('a row always has a solution');
  return solved.objective;
}

/** The rule of thumb: walk along and cut at the next allowed place once a stretch has its equal share. */
export function greedyWorst({ row, count }: SpreadCase): number {
  const { loads, closed, allowed, fixed } = row;
  const total = loads.reduce((sum, load) => sum + load, 0);
  const share = total / (count + fixed.length + (closed ? 0 : 1));
  const cuts: number[] = [];
  let load = 0;
  for (const [i, here] of loads.entries()) {
    if (fixed.includes(i)) load = 0;
    else if (cuts.length < count && allowed.includes(i) && load >= share) {
      cuts.push(i);
      load = 0;
    }
    load += here;
  }
  return worstStretch(row, cuts);
}

/** Runs cases and counts those on which the greedy rule does worse than the optimum. */
export function compare(
  seeds: Iterable<number>,
  most: number,
  solve: (c: SpreadCase) => number,
): { readonly cases: number; readonly differ: readonly number[]; readonly greedyWorse: number } {
  const differ: number[] = [];
  let [cases, greedyWorse] = [0, 0];
  for (const seed of seeds) {
    const one = randomCase(seed, most);
    const best = optimum(one);
    if (Math.abs(solve(one) - best) > 1e-6) differ.push(seed);
    if (greedyWorst(one) > best + 1e-6) greedyWorse++;
    cases++;
  }
  return { cases, differ, greedyWorse };
}
