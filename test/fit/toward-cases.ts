/** Sides whose cells have wished places, for the tests and the longer proof. */
import fc from 'fast-check';
import highsModule from 'highs';
import { expect } from 'vitest';
import { type FillerSet, fillerSet } from '../../src/fit/fillers.ts';
import { type PackProblem, pack, placing } from '../../src/fit/pack.ts';
import { isLegal, type Lattice, latticeOf } from '../../src/fit/toward/lattice.ts';
import { type Relaxed, relax } from '../../src/fit/toward/relax.ts';
import { toward, type Wish } from '../../src/fit/toward.ts';
import { units } from '../../src/geometry/units.ts';
import { footprint } from '../helpers/ring.ts';

/** The sum of weighted squared distances to the wishes, in square units. */
export const distanceFrom = (wishes: readonly (Wish | null)[], places: readonly number[]): number =>
  wishes.reduce(
    (sum, wish, i) => (wish === null ? sum : sum + wish.weight * ((places[i] ?? 0) - wish.at) ** 2),
    0,
  );

const filler = (width: number, alone: boolean) => ({
  ...footprint(`f${width}`, 'filler', 1, { standsAlone: alone }),
  width: units(width),
});
export const setOf = (...fillers: readonly (readonly [width: number, alone?: boolean])[]): FillerSet =>
  fillerSet(fillers.map(([width, alone = true]) => filler(width, alone)));

export interface Case {
  readonly problem: PackProblem;
  readonly length: number;
  readonly wishes: readonly (Wish | null)[];
}

export const small = fc
  .record({
    fillers: fc.uniqueArray(fc.record({ w: fc.integer({ min: 1, max: 7 }), alone: fc.boolean() }), {
      minLength: 1,
      maxLength: 3,
      selector: (f) => f.w,
    }),
    widths: fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 4 }),
    gaps: fc.array(fc.integer({ min: 0, max: 8 }), { minLength: 4, maxLength: 4 }),
    near: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 4, maxLength: 4 }),
    next: fc.array(fc.integer({ min: 0, max: 16 }), { minLength: 4, maxLength: 4 }),
    other: fc.option(fc.tuple(fc.nat(4), fc.boolean()), { nil: null, freq: 3 }),
    low: fc.integer({ min: 0, max: 6 }),
    fixed: fc.option(fc.tuple(fc.nat(3), fc.integer({ min: 2, max: 20 })), { nil: null, freq: 6 }),
    wishes: fc.array(
      fc.option(fc.tuple(fc.integer({ min: -5, max: 40 }), fc.integer({ min: 1, max: 3 })), {
        nil: null,
        freq: 4,
      }),
      { minLength: 4, maxLength: 4 },
    ),
    slack: fc.integer({ min: 0, max: 16 }),
  })
  .map((r): Case | null => {
    const set = setOf(...r.fillers.map((f) => [f.w, f.alone] as const));
    // Over circuit some gaps take fewer fillers, or none.
    const rest = r.other === null || r.other[1] ? [] : r.fillers.slice(1);
    const less = setOf(...rest.map((f) => [f.w, f.alone] as const));
    const own = (gap: number): FillerSet => (r.other?.[0] === gap ? less : set);
    const n = r.widths.length;
    const fixed = r.fixed === null ? null : { cell: r.fixed[0] % n, s: r.fixed[1] };
    const problem: PackProblem = {
      start: 2,
      end: 3,
      lastFillers: own(n),
      cells: r.widths.map((width, i) => ({
        width,
        gap: Math.max(0, (r.gaps[i] ?? 0) - 5),
        fillers: own(i),
        low: i === 0 ? r.low : 0,
        tail: width + 3 + (i === n - 1 ? r.low % 3 : 0),
        fixed: fixed?.cell === i ? fixed.s : null,
      })),
      rules: r.widths.flatMap((_, to) => [
        ...(to >= 2 ? [{ from: to - 2, to, distance: r.next[to] ?? 0, why: '' }] : []),
        ...(to >= 1 ? [{ from: to - 1, to, distance: r.near[to] ?? 0, why: '' }] : []),
      ]),
    };
    const wishes = r.widths.map((_, i): Wish | null => {
      const wish = r.wishes[i];
      return wish === null || wish === undefined ? null : { at: wish[0], weight: wish[1] };
    });
    const packing = pack(problem);
    if (packing.stuck !== null) return null;
    for (let length = 8 + r.slack; length < 80; length++)
      if (placing(packing, length) !== null) return { problem, length, wishes };
    return null;
  })
  .filter((c) => c !== null);

/** Every legal placing. */
function* placings({ problem, length }: Case): Generator<readonly number[]> {
  function* go(places: readonly number[], end: number): Generator<readonly number[]> {
    const i = places.length;
    const cell = problem.cells[i];
    if (cell === undefined) {
      if (problem.lastFillers.isLegal(length - problem.end - end)) yield places;
      return;
    }
    for (let s = Math.max(end + cell.gap, cell.low); s + cell.tail <= length; s++) {
      if (!cell.fillers.isLegal(s - end) || (cell.fixed !== null && cell.fixed !== s)) continue;
      if (problem.rules.some((r) => r.to === i && s - (places[r.from] ?? 0) < r.distance)) continue;
      yield* go([...places, s], s + cell.width);
    }
  }
  yield* go([], problem.start);
}

/** A side as rings have them: pads in two rows, wider pitches near the corners, cells of several widths. */
export const sides = fc
  .record({
    count: fc.integer({ min: 2, max: 60 }),
    widths: fc.array(fc.constantFrom(35, 40, 75, 35), { minLength: 60, maxLength: 60 }),
    two: fc.boolean(),
    pitch: fc.constantFrom(60, 70, 90),
    graded: fc.constantFrom<readonly (readonly [pads: number, pitch: number])[]>(
      [],
      [[3, 100]],
      [
        [5, 110],
        [2, 140],
      ],
    ),
    stem: fc.integer({ min: 30, max: 45 }),
    spread: fc.integer({ min: 20, max: 160 }),
    noise: fc.array(fc.integer({ min: -90_000, max: 90_000 }), { minLength: 60, maxLength: 60 }),
    bare: fc.array(fc.nat(9), { minLength: 60, maxLength: 60 }),
    slack: fc.integer({ min: 0, max: 3000 }),
  })
  .map((r): Case => {
    // In nanometres, to keep the solver's numbers small.
    const NM = 1000;
    const widths = r.widths.slice(0, r.count).map((w) => w * NM);
    const set = setOf([10 * NM], [5 * NM], [NM], [NM / 2]);
    const rows = widths.map((_, i) => (r.two ? i % 2 : 0));
    const rank = (i: number, row: number): number => rows.slice(0, i).filter((other) => other === row).length;
    const total = (row: number): number => rows.filter((other) => other === row).length;
    const rules = widths.flatMap((_, to) =>
      [2, 1].flatMap((back) => {
        const from = to - back;
        const [a, b] = [rows[from], rows[to]];
        if (from < 0 || a === undefined || b === undefined) return [];
        const centres = ((widths[from] ?? 0) - (widths[to] ?? 0)) / 2;
        if (a !== b) return [{ from, to, distance: r.stem * NM + centres, why: '' }];
        if (!r.two && back === 2) return [];
        const near = Math.min(rank(from, a), total(a) - 1 - rank(to, a));
        const pitch = r.graded.reduce<number>(
          (most, [pads, wider]) => (near < pads - 1 ? Math.max(most, wider) : most),
          r.pitch,
        );
        return [{ from, to, distance: pitch * NM + centres, why: '' }];
      }),
    );
    const problem: PackProblem = {
      start: 300 * NM,
      end: 300 * NM,
      lastFillers: set,
      cells: widths.map((width) => ({
        width,
        gap: 0,
        fillers: set,
        low: 300 * NM,
        tail: 300 * NM + width,
        fixed: null,
      })),
      rules,
    };
    const packing = pack(problem);
    let length = 600 * NM + widths.reduce((sum, w) => sum + w, 0) + r.slack * NM;
    while (placing(packing, length) === null) length += 500 * NM;
    const wishes = widths.map((width, i): Wish | null =>
      r.bare[i] === 0
        ? null
        : {
            at:
              Math.round(length / 2 + (i - (r.count - 1) / 2) * r.spread * NM - width / 2) +
              (r.noise[i] ?? 0),
            weight: 1 + ((r.bare[i] ?? 0) % 2),
          },
    );
    return { problem, length, wishes };
  });

export function relaxedOf(c: Case): { readonly lattice: Lattice; readonly relaxed: Relaxed } {
  const lattice = latticeOf(c.problem, c.length, c.wishes);
  const relaxed = lattice === undefined ? undefined : relax(lattice);
  if (lattice === undefined || relaxed === undefined) throw new Error('nothing can move');
  return { lattice, relaxed };
}

/** Whether no pressure is negative, each presses only what is tight, and together they hold every group. */
export function holdsKkt(lattice: Lattice, relaxed: Relaxed): void {
  const scale = Math.max(1, ...relaxed.places.map(Math.abs), ...relaxed.wishes.map(Math.abs));
  const slip = 1e-9 * scale;
  const place = (k: number): number => relaxed.places[k] ?? 0;
  const bound = (list: readonly number[], k: number): number => list[relaxed.wished[k] ?? 0] ?? 0;
  const push = relaxed.places.map(
    (x, k) => (lattice.weight[relaxed.wished[k] ?? 0] ?? 0) * (x - (relaxed.wishes[k] ?? 0)),
  );
  const press = (k: number, by: number): void => {
    push[k] = (push[k] ?? 0) + by;
  };
  for (const { from, to, steps, pressure } of relaxed.edges) {
    expect(place(to) - place(from) - steps).toBeGreaterThan(-slip);
    expect(pressure).toBeGreaterThanOrEqual(0);
    if (pressure > slip) expect(place(to) - place(from) - steps).toBeLessThan(slip);
    press(to, -pressure);
    press(from, pressure);
  }
  relaxed.places.forEach((x, k) => {
    const [least, most] = [relaxed.least.get(k) ?? 0, relaxed.most.get(k) ?? 0];
    expect(x).toBeGreaterThan(bound(lattice.low, k) - slip);
    expect(x).toBeLessThan(bound(lattice.high, k) + slip);
    expect(Math.min(least, most)).toBeGreaterThanOrEqual(0);
    if (least > slip) expect(x).toBeLessThan(bound(lattice.low, k) + slip);
    if (most > slip) expect(x).toBeGreaterThan(bound(lattice.high, k) - slip);
    press(k, most - least);
  });
  const weights = relaxed.wished.map((g) => lattice.weight[g] ?? 0);
  const total = weights.reduce((sum, w) => sum + w, 0);
  for (const rest of push) expect(Math.abs(rest)).toBeLessThan(slip * total);
}

/** The distance of a side's nearest places to the wishes by every legal placing, and whether the found one is legal. */
export function againstAll(c: Case): { readonly searched: boolean } {
  const otherwise = placing(pack(c.problem), c.length) ?? [];
  const found = toward(c.problem, c.length, c.wishes, otherwise);
  // A fixed cell's wish moves nothing.
  const wishes = c.wishes.map((wish, i) => (c.problem.cells[i]?.fixed === null ? wish : null));
  let least = Number.POSITIVE_INFINITY;
  let legal = false;
  for (const places of placings(c)) {
    least = Math.min(least, distanceFrom(wishes, places));
    legal ||= places.every((s, i) => s === found.places[i]);
  }
  expect(found.proven).toBe(true);
  expect(legal).toBe(true);
  expect(distanceFrom(wishes, found.places)).toBe(least);
  const lattice = latticeOf(c.problem, c.length, c.wishes);
  const relaxed = lattice === undefined ? undefined : relax(lattice);
  return { searched: lattice !== undefined && relaxed !== undefined && !isLegal(lattice, relaxed.rounded) };
}

const load = highsModule as unknown as typeof highsModule.default;
export type Solver = Awaited<ReturnType<typeof load>>;
export const loadSolver = (): Promise<Solver> => load();

/**
 * Holds the exact optimum to a general QP solver, which gets the side as it stands: a variable for each cell, its width,
 * rules and bounds. Every distance of these sides is a whole number of steps, so steps change nothing. The solver can
 * go in circles over cells that cost nothing, so here every cell has a wish. Returns whether it came to an end.
 */
export function againstSolver(highs: Solver, side: Case): boolean {
  const c = {
    ...side,
    wishes: side.wishes.map((wish) => wish ?? { at: Math.round(side.length / 2), weight: 1 }),
  };
  const { lattice, relaxed } = relaxedOf(c);
  const { cells, rules, start, end } = c.problem;
  const { step } = lattice;
  const name = (i: number): string => `s${i}`;
  const signed = (v: number): string => (v < 0 ? `- ${-v}` : `+ ${v}`);
  const wished = c.wishes.map((wish, i) => ({ i, at: wish.at / step, weight: wish.weight }));
  const distances = [
    ...cells.slice(1).map((_, k) => ({ from: k, to: k + 1, distance: cells[k]?.width ?? 0 })),
    ...rules,
  ];
  const solved = highs.solve(
    [
      'Minimize',
      ` obj: ${wished.map(({ i, at, weight }) => `${signed(-2 * weight * at)} ${name(i)}`).join(' ')} + [ ${wished.map(({ i, weight }) => `${2 * weight} ${name(i)} ^ 2`).join(' + ')} ] / 2`,
      'Subject To',
      ...distances.map((d, k) => ` c${k}: ${name(d.to)} - ${name(d.from)} >= ${d.distance / step}`),
      ` first: ${name(0)} >= ${start / step}`,
      'Bounds',
      ...cells.map((cell, i) => {
        const high = Math.min(
          c.length - cell.tail,
          i === cells.length - 1 ? c.length - end - cell.width : Infinity,
        );
        return ` ${cell.low / step} <= ${name(i)} <= ${high / step}`;
      }),
      'End',
    ].join('\n'),
  );
  if (solved.Status !== 'Optimal') return false;
  const theirs = wished.reduce((sum, { i, at, weight }) => {
    const column = solved.Columns[name(i)];
    const s = column !== undefined && 'Primal' in column ? column.Primal : Number.NaN;
    return sum + weight * (s - at) ** 2;
  }, 0);
  const ours = relaxed.places.reduce(
    (sum, u, k) => sum + (lattice.weight[relaxed.wished[k] ?? 0] ?? 0) * (u - (relaxed.wishes[k] ?? 0)) ** 2,
    0,
  );
  expect(ours).toBeLessThanOrEqual(theirs + 1e-5 * Math.max(1, theirs));
  expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1e-4 * Math.max(1, theirs));
  return true;
}
