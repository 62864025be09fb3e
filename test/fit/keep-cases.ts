/** Random sides of which most cells stood somewhere before, the program that each is held against, and a greedy rule. */
import highsModule from 'highs';
import { expect } from 'vitest';
import { fillerSet } from '../../src/fit/fillers.ts';
import { packKeeping } from '../../src/fit/keeping.ts';
import { lostOn } from '../../src/fit/moved.ts';
import { keepingMost, type PackCell, type PackProblem, pack, placing } from '../../src/fit/pack.ts';
import { PIN_WEIGHT } from '../../src/fit/problem.ts';
import { units } from '../../src/geometry/units.ts';
import { footprint } from '../helpers/ring.ts';

export interface KeepCase {
  readonly problem: PackProblem;
  readonly length: number;
  readonly fillers: readonly { readonly width: number; readonly alone: boolean }[];
}

const FILLERS = [
  [{ width: 1, alone: true }],
  [
    { width: 3, alone: true },
    { width: 2, alone: true },
  ],
  [
    { width: 4, alone: true },
    { width: 3, alone: true },
    { width: 1, alone: false },
  ],
  [
    { width: 5, alone: true },
    { width: 1, alone: true },
  ],
  [
    { width: 4, alone: true },
    { width: 2, alone: true },
  ],
];

/** A cheap repeatable source of numbers from 0 to below 1 (xorshift). */
function numbers(seed: number): () => number {
  let state = (seed * 2_654_435_761 + 97) >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 2 ** 32;
  };
}

/**
 * A side as it was, packed with gaps of fillers; then some cells leave, some come, some neighbours change places,
 * some become wider. What stayed bears its old place.
 */
export function keepCase(seed: number, most: number): KeepCase {
  const random = numbers(seed);
  for (let i = 0; i < 8; i++) random();
  const chance = (of: number): number => Math.floor(random() * of);
  const fillers = FILLERS[chance(FILLERS.length)] ?? [];
  const set = fillerSet(
    fillers.map((f) => ({
      ...footprint(`f${f.width}`, 'filler', 1, { standsAlone: f.alone }),
      width: units(f.width),
    })),
  );
  const pitch = 4 + chance(5);
  const next = 2 * pitch + chance(6);
  const start = 2 + chance(3);
  const legal = [0, 0, 1, 2, 3, 4, 5, 6, 8].filter((gap) => set.isLegal(gap));
  const before: { width: number; s: number }[] = [];
  // Room before the first cell, into which cells could go back instead of pushing others on.
  let end = start + set.atLeast(6 + chance(12));
  const n = 4 + chance(most - 4);
  for (let i = 0; i < n; i++) {
    const width = 3 + chance(4);
    const least = Math.max(end, (before[i - 1]?.s ?? -99) + pitch, (before[i - 2]?.s ?? -99) + next);
    const s = end + set.atLeast(least - end + (legal[chance(legal.length)] ?? 0));
    before.push({ width, s });
    end = s + width;
  }
  const corner = 3;
  const length = end + set.atLeast(chance(9)) + corner;
  const cells: PackCell[] = [];
  const cell = (width: number, kept: number | null): PackCell => ({
    width,
    gap: chance(9) === 0 ? 1 + chance(3) : 0,
    fillers: set,
    low: 0,
    tail: width + corner,
    fixed: null,
    ...(kept === null ? {} : { kept: { at: [kept], weight: 1 + (chance(8) === 0 ? 1 : 0) } }),
  });
  for (const { width, s } of before) {
    if (chance(4) === 0) cells.push(cell(3 + chance(4), null));
    if (chance(6) === 0) continue;
    const now = cell(chance(10) === 0 ? width + 1 + chance(2) : width, s);
    const last = cells.at(-1);
    if (last !== undefined && chance(5) === 0) cells.splice(-1, 1, now, last);
    else cells.push(now);
  }
  // One of the later cells is listed earlier now: whoever holds it first moves all that stood before it.
  if (cells.length > 3 && chance(2) === 0) {
    const from = 2 + chance(cells.length - 2);
    cells.splice(chance(from), 0, ...cells.splice(from, 1));
  }
  // Some neighbours share their places, as pads of one supply do: either may take either.
  for (let i = 1; i < cells.length; i++) {
    const [one, other] = [cells[i - 1], cells[i]];
    if (!one?.kept || !other?.kept || chance(8) !== 0) continue;
    const shared = { at: [...one.kept.at, ...other.kept.at].sort((a, b) => a - b), weight: 1 };
    cells.splice(i - 1, 2, { ...one, kept: shared }, { ...other, kept: shared });
  }
  const rules = cells.flatMap((_, to) => [
    ...(to >= 2 ? [{ from: to - 2, to, distance: next, why: '' }] : []),
    ...(to >= 1 ? [{ from: to - 1, to, distance: pitch, why: '' }] : []),
  ]);
  return {
    problem: { start, end: corner, cells, rules, lastFillers: set },
    length: length + chance(8),
    fillers,
  };
}

/**
 * The least weight of what moves as a mixed-integer program, or undefined where nothing fits: whole numbers of each
 * filler in each gap, one choice a cell whether it stands at its old place. A null length may be any.
 */
export function leastMoved({ problem, fillers }: KeepCase, length: number | null): number | undefined {
  const { cells, start, end, rules } = problem;
  const far = 1000;
  const rows: string[] = [];
  const whole: string[] = ['L'];
  const choices: string[] = [];
  const kept = cells.flatMap((cell, i) =>
    (cell.kept?.at ?? []).map((s, k) => ({ i, k, s, weight: cell.kept?.weight ?? 0 })),
  );
  const gap = (i: number): string => fillers.map((f, k) => ` - ${f.width} n${i}_${k}`).join('');
  for (let i = 0; i <= cells.length; i++) {
    const last = cells[i - 1];
    const here = i === cells.length ? `L` : `s${i}`;
    const behind = i === 0 ? start : (last?.width ?? 0);
    const beyond = i === cells.length ? end : 0;
    rows.push(` g${i}: ${here}${i === 0 ? '' : ` - s${i - 1}`}${gap(i)} = ${behind + beyond}`);
    const ordinary = fillers.map((f, k) => (f.alone ? ` - ${far} n${i}_${k}` : ` + n${i}_${k}`)).join('');
    rows.push(` a${i}: ${ordinary.trim()} <= 0`);
    fillers.forEach((_, k) => {
      whole.push(`n${i}_${k}`);
    });
    const cell = cells[i];
    if (cell === undefined) continue;
    whole.push(`s${i}`);
    rows.push(` l${i}: s${i} >= ${cell.low}`);
    rows.push(` t${i}: L - s${i} >= ${cell.tail}`);
    rows.push(` m${i}: s${i}${i === 0 ? '' : ` - s${i - 1}`} >= ${behind + cell.gap}`);
  }
  for (const [k, { from, to, distance }] of rules.entries())
    rows.push(` r${k}: s${to} - s${from} >= ${distance}`);
  for (const { i, k, s } of kept) {
    choices.push(`h${i}_${k}`);
    rows.push(` u${i}_${k}: s${i} + ${far} h${i}_${k} <= ${s + far}`);
    rows.push(` v${i}_${k}: s${i} - ${far} h${i}_${k} >= ${s - far}`);
  }
  if (length !== null) rows.push(` length: L = ${length}`);
  else rows.push(` length: L <= ${far}`);
  const total = cells.reduce((sum, cell) => sum + (cell.kept?.weight ?? 0), 0);
  const objective = kept.map(({ i, k, weight }) => `${weight} h${i}_${k}`).join(' + ') || '0 L';
  const text = `Maximize\n obj: ${objective}\nSubject To\n${rows.join('\n')}\nGeneral\n ${whole.join(' ')}\n${
    choices.length > 0 ? `Binary\n ${choices.join(' ')}\n` : ''
  }End\n`;
  // With its presolve highs 1.15.3 calls a worse solution of some of these optimal.
  const solved = highs.solve(text, { output_flag: false, presolve: 'off', mip_rel_gap: 0, mip_abs_gap: 0 });
  if (solved.Status === 'Infeasible') return undefined;
  if (solved.Status !== 'Optimal') throw new Error(`highs ended as ${solved.Status}`);
  return total - Math.round(solved.ObjectiveValue);
}

/** The solver. Its types describe its CommonJS form, its default export is the loader itself. */
const highs = await (highsModule as unknown as typeof highsModule.default)();

/** What a rule that looks at one cell after the other moves: each stands at its old place if it can, else the earliest. */
export function greedyMoved({ problem }: KeepCase): number {
  const places: number[] = [];
  let lost = 0;
  for (const [i, cell] of problem.cells.entries()) {
    const end = i === 0 ? problem.start : (places[i - 1] ?? 0) + (problem.cells[i - 1]?.width ?? 0);
    let need = Math.max(end + cell.gap, cell.low);
    for (const { from, to, distance } of problem.rules)
      if (to === i) need = Math.max(need, (places[from] ?? 0) + distance);
    const stays = cell.kept?.at.find((s) => s >= need && cell.fillers.isLegal(s - end));
    if (stays === undefined) lost += cell.kept?.weight ?? 0;
    places.push(stays ?? end + cell.fillers.atLeast(need - end));
  }
  return lost;
}

/** What the search that looks for few moves first loses, in pins. */
function lostKeeping(problem: PackProblem, length: number | null): number | undefined {
  const cells = problem.cells.map((cell) =>
    cell.kept ? { ...cell, kept: { ...cell.kept, weight: cell.kept.weight * PIN_WEIGHT } } : cell,
  );
  const packing = packKeeping({ ...problem, cells }, length);
  if (length === null) return (keepingMost(packing).labels[0]?.lost ?? Number.NaN) / PIN_WEIGHT;
  const places = placing(packing, length);
  return places === null ? undefined : lostOn(packing.problem, places) / PIN_WEIGHT;
}

/** Holds so many random sides to the program, at their own length and at any. */
export function compareKept(
  cases: number,
  most: number,
): { readonly compared: number; readonly moved: number; readonly greedyWorse: number } {
  let [compared, moved, greedyWorse] = [0, 0, 0];
  for (let seed = 1; seed <= cases; seed++) {
    const random = keepCase(seed, most);
    const { problem, length } = random;
    const packing = pack(problem);
    const places = placing(packing, length);
    const least = leastMoved(random, length);
    expect(places === null, `seed ${seed}`).toBe(least === undefined);
    if (places !== null && least !== undefined) {
      expect(lostOn(problem, places), `seed ${seed}`).toBe(least);
      expect(lostKeeping(problem, length), `seed ${seed}, few moves first`).toBe(least);
      compared++;
      if (least > 0) moved++;
    }
    const free = leastMoved(random, null);
    expect(keepingMost(packing).labels[0]?.lost, `seed ${seed}, any length`).toBe(free);
    expect(lostKeeping(problem, null), `seed ${seed}, any length, few moves first`).toBe(free);
    if (free !== undefined && greedyMoved(random) > free) greedyWorse++;
  }
  console.log(
    `${cases} sides: ${compared} of a given length, where ${moved} must move pins; greedy worse on ${greedyWorse}`,
  );
  return { compared, moved, greedyWorse };
}
