/**
 * What the four sides can be before any cut is chosen. How deep a side's rows and cells are depends on which cells lie
 * on it, and decides where the corner cells beside it and the core end: so each choice of depths for the four sides is
 * a form of its own, in which every length is settled. Most rings have one form worth looking at; the others have a
 * side that is empty, has a single bond pad, or lacks the deepest cells.
 */
import { nextSide, previousSide, SIDES, type Side } from '../../geometry/side.ts';
import { commonStep, units } from '../../geometry/units.ts';
import type { PlannedCell } from '../../plan/plan.ts';
import { failed, found, type Outcome } from '../../problems/problem.ts';
import type { Ring } from '../../spec/ring.ts';
import { coreWays, leastForCore } from '../core.ts';
import type { AllRows } from '../problem.ts';
import { across, type SideRows } from '../rows.ts';
import type { Chain, Way, Ways } from './chain.ts';
import { areWhole, type ClassPair, classesOf, waysOf } from './classes.ts';
import { type Depths, type Distances, depthsOf, distancesOf } from './distances.ts';
import type { Lap } from './lap.ts';
import type { Lattice } from './least.ts';
import { type Runs, runsOf } from './runs.ts';
import { type Strand, strandOf } from './strand.ts';

/** One side's choice: how deep its rows are and how deep its cells may be. */
interface SideForm {
  readonly depths: Depths;
  readonly deepest: number;
  /** The most cells that a side of this form can have. */
  readonly most: number;
}

export interface Form {
  readonly chain: Chain;
  /** Whether every least length is one that fillers can fill, and every longer one on the lattice of its class too. */
  readonly dense: boolean;
  /** The form once for each pair of classes that its lengths may have; where all are of one, just itself. */
  readonly parts: () => readonly Form[];
  readonly width: Lattice;
  readonly height: Lattice;
  /** The least extents for the core: one way, or two where corner cells give way to it in width or in height. */
  readonly cores: readonly { readonly width: number; readonly height: number }[];
  /** The most cells that each side can have, from the left one on. */
  readonly most: readonly number[];
  /** Rows of the sides as far as neighbours must know them. */
  readonly rows: AllRows;
}

export interface FormOfRows {
  readonly form: () => Form;
  /** The same rows where some sides have no deep cells, which leaves the core more room. */
  readonly shallower: () => readonly Form[];
}

export interface Forms {
  readonly lap: Lap;
  readonly strands: Readonly<Record<Side, Strand>>;
  /** The forms with cells of any depth, by how deep the rows are, the deepest first; made when asked for. */
  readonly list: readonly FormOfRows[];
}

/** The forms of a lap; a cell that a side's style does not allow is a problem. */
export function formsOf(ring: Ring, lap: Lap): Outcome<Forms> {
  const shared = new Map<string, Side>();
  const keyed = SIDES.map((side) => {
    const like = SIDES.find((other) => alike(ring, lap, other, side)) ?? side;
    shared.set(side, like);
    return like === side ? strandOf(ring, side, lap.cells[side]) : null;
  });
  const problems = keyed.flatMap((outcome) => (outcome === null || outcome.ok ? [] : outcome.problems));
  const strandFor = (side: Side): Strand | null => {
    const outcome = keyed[SIDES.indexOf(shared.get(side) ?? side)];
    return outcome?.ok === true ? outcome.value : null;
  };
  const [left, bottom, right, top] = SIDES.map(strandFor);
  if (problems.length > 0 || !left || !bottom || !right || !top) return failed(...problems);
  const strands = { left, bottom, right, top };
  const rowsOf = remember(depthsOf);
  const depthsOfCells = remember((strand: Strand) => cellDepths(ring, strand));
  const make = maker(ring, lap, strands);
  const list = products(SIDES.map((side) => rowsOf(strands[side]))).flatMap((rows): FormOfRows[] => {
    const sides = (deepest: readonly CellDepth[]): Record<Side, SideForm> => {
      const of = (k: number): SideForm => {
        const [depths, cells] = [rows[k] ?? NO_ROWS, deepest[k] ?? NO_CELLS];
        return { depths, deepest: cells.deepest, most: Math.min(depths.most, cells.most) };
      };
      return { left: of(0), bottom: of(1), right: of(2), top: of(3) };
    };
    const holding = (deepest: readonly CellDepth[]): boolean =>
      Object.values(sides(deepest)).reduce((sum, side) => sum + side.most, 0) >= lap.count;
    const choices = products(SIDES.map((side) => depthsOfCells(strands[side]))).filter(holding);
    const [deepest, ...others] = choices;
    if (deepest === undefined) return [];
    return [{ form: () => make(sides(deepest)), shallower: () => others.map((other) => make(sides(other))) }];
  });
  return found({ lap, strands, list });
}

const NO_ROWS: Depths = { outer: 0, inner: 0, padded: false, most: 0 };
const NO_CELLS: CellDepth = { deepest: 0, most: 0 };

/** One of each list, in every combination, the first ones first. */
function products<T>(lists: readonly (readonly T[])[]): readonly (readonly T[])[] {
  return lists.reduce<readonly (readonly T[])[]>(
    (all, list) => all.flatMap((head) => list.map((item) => [...head, item])),
    [[]],
  );
}

function remember<K, V>(make: (key: K) => V): (key: K) => V {
  const known = new Map<K, V>();
  return (key) => {
    const there = known.get(key);
    if (there !== undefined) return there;
    const value = make(key);
    known.set(key, value);
    return value;
  };
}

/** Whether two sides' cells stand alike, so that one strand serves both. */
function alike(ring: Ring, lap: Lap, a: Side, b: Side): boolean {
  if (a === b) return true;
  if (ring.sides[a].style !== ring.sides[b].style) return false;
  return lap.cells[a].every((cell, i) => sameCell(cell, lap.cells[b][i]));
}

function sameCell(a: PlannedCell, b: PlannedCell | undefined): boolean {
  if (a.footprint !== b?.footprint) return false;
  if (a.entry === null || b.entry === null) return a.entry === b.entry;
  const [x, y] = [a.entry, b.entry];
  return (
    x.pad === y.pad &&
    x.shift === y.shift &&
    x.mirrored === y.mirrored &&
    x.gap === y.gap &&
    x.at === y.at &&
    x.row === y.row
  );
}

/** How deep the cells of a side may be, and the most cells of a side that keeps to it. */
interface CellDepth {
  readonly deepest: number;
  readonly most: number;
}

/** The depths of a strand's cells, the deepest first; none is less than the fillers'. */
function cellDepths(ring: Ring, strand: Strand): readonly CellDepth[] {
  const filler = ring.fillers.reduce((d, f) => Math.max(d, f.setback + f.depth), 0);
  const deep = new Set([...strand.depth].map((d) => Math.max(d, filler)));
  if (deep.size === 0) deep.add(filler);
  return [...deep].sort((a, b) => b - a).map((deepest) => ({ deepest, most: longestRun(strand, deepest) }));
}

/** The most cells in a row none of which is deeper. */
function longestRun(strand: Strand, deepest: number): number {
  let [run, most] = [0, 0];
  for (const depth of strand.depth) {
    run = depth <= deepest ? run + 1 : 0;
    most = Math.max(most, run);
  }
  return Math.min(strand.count, most);
}

/** Makes forms, sharing what several of them have in common. */
function maker(ring: Ring, lap: Lap, strands: Forms['strands']): (of: Record<Side, SideForm>) => Form {
  const distances = kept<Distances>();
  const runs = kept<Runs>();
  const untils = kept<Int32Array>();
  const numberOf = new Map([...new Set(Object.values(strands))].map((strand, i) => [strand, i]));
  const { footprint } = ring.corners;
  const fillers = latticeStep(strands, true);
  const classes = SIDES.every((side) => strands[side].dense && strands[side].step === fillers)
    ? classesOf([strands.left, strands.bottom, strands.right, strands.top], fillers, lap.cuttable)
    : null;
  const dense = classes !== null;
  const step = latticeStep(strands, dense);
  return (forms) => {
    const t0 = (side: Side): number => across(ring, ring.sides[side].style, forms[side].depths).t0;
    const ends = (side: Side) => ({
      start: t0(previousSide(side)) + footprint.width,
      end: t0(nextSide(side)) + footprint.depth,
    });
    const way = (side: Side): Way => {
      const strand = strands[side];
      const { depths, deepest } = forms[side];
      const { start, end } = ends(side);
      const rowsKey = `${numberOf.get(strand)} ${depths.outer} ${depths.inner} ${depths.padded}`;
      const setting = { strand, depths, start, end };
      const between = (): Distances => distances(rowsKey, () => distancesOf(strand, depths));
      const mask = lap.mayLie[side];
      const maskKey = mask.every(Boolean) ? 'all' : side;
      return {
        runs: runs(`${rowsKey} ${start} ${end}`, () => runsOf(setting, between)),
        until: untils(`${numberOf.get(strand)} ${maskKey} ${deepest}`, () => untilOf(strand, mask, deepest)),
      };
    };
    const ways: Ways = [way('left'), way('bottom'), way('right'), way('top')];
    const rows = stubs((side) => ({ t0: t0(side), inner: t0(side) + forms[side].deepest }), strands);
    const { width, height } = coreWays(ring, rows);
    const lattice = (side: Side): Lattice => {
      const { start, end } = ends(side);
      return { step, residue: step === 0 ? start + end : (start + end) % step };
    };
    const form: Form = {
      chain: { count: lap.count, cuttable: lap.cuttable, ways },
      dense,
      parts: () => parts(),
      width: lattice('bottom'),
      height: lattice('left'),
      cores: [width, height]
        .map((insets) => leastForCore(ring, insets))
        .filter((core, i, all) => i === 0 || core.width !== all[0]?.width || core.height !== all[0]?.height),
      most: SIDES.map((side) => forms[side].most),
      rows,
    };
    const parts = once(() => (classes === null ? [form] : ofClasses(form, classes)));
    return form;
  };
}

/** A form with stretches of one pair of classes only, for each pair. */
function ofClasses(form: Form, classes: readonly ClassPair[]): readonly Form[] {
  if (areWhole(form.chain.ways, form.width.step)) return [form];
  const on = ({ step, residue }: Lattice, more: number): Lattice => ({
    step,
    residue: (residue + more) % step,
  });
  return classes.map((pair): Form => {
    const ways = waysOf(form.chain.ways, form.width.step, pair);
    const part: Form = {
      ...form,
      chain: { ...form.chain, ways },
      parts: () => [part],
      width: on(form.width, pair.width),
      height: on(form.height, pair.height),
    };
    return part;
  });
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** Values by key, each made when it is first asked for. */
function kept<T>(): (key: string, make: () => T) => T {
  const known = new Map<string, T>();
  return (key, make) => {
    const there = known.get(key);
    if (there !== undefined) return there;
    const value = make();
    known.set(key, value);
    return value;
  };
}

/** What every length of a side is a multiple of, from its residue: the fillers' step, the cells' widths too if need be. */
function latticeStep(strands: Forms['strands'], dense: boolean): number {
  let step = 0;
  for (const strand of new Set(Object.values(strands))) {
    step = commonStep(step, strand.step);
    if (!dense) for (const width of strand.width) step = commonStep(step, width);
  }
  return step;
}

/** By first cell, the end of the cells from there on that may lie on a side and are no deeper than it allows. */
function untilOf(strand: Strand, mask: readonly boolean[], deepest: number): Int32Array {
  const { count, depth } = strand;
  const until = new Int32Array(count);
  let end = 2 * count;
  for (let c = 2 * count - 1; c >= 0; c--) {
    if (mask[c % count] !== true || (depth[c] ?? 0) > deepest) end = c;
    if (c < count) until[c] = Math.min(end, c + count);
  }
  return until;
}

/** Rows of sides whose cells are not chosen yet. */
function stubs(
  of: (side: Side) => { readonly t0: number; readonly inner: number },
  strands: Forms['strands'],
): AllRows {
  const stub = (side: Side): SideRows => {
    const { t0, inner } = of(side);
    return { side, cells: [], pads: [], t0: units(t0), inner: units(inner), over: strands[side].rows.over };
  };
  return { left: stub('left'), bottom: stub('bottom'), right: stub('right'), top: stub('top') };
}
