/**
 * The questions of the proof, each on random cases: what the program answers, what the mixed-integer program does, and
 * whether a rule of thumb does worse. Cases are drawn until a third of them are such that it does.
 */
import { cutOrder } from '../../src/fit/cut/cut.ts';
import { fillerSet } from '../../src/fit/fillers.ts';
import { fitSides } from '../../src/fit/fit.ts';
import { evenShares } from '../../src/fit/slack.ts';
import { SIDES, type Side } from '../../src/geometry/side.ts';
import { plan } from '../../src/plan/plan.ts';
import { leastLength, measure } from '../../src/size/measure.ts';
import type { Order, OrderGroup } from '../../src/spec/order.ts';
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { footprint, um } from '../helpers/ring.ts';
import { leastCut } from './cut-program.ts';
import { numbers } from './free-rings.ts';
import { legalGaps, type ModelCell, type ModelRules, modelSide, selfConflict } from './model.ts';
import {
  fewestFillers,
  greedyCommon,
  greedyFillers,
  greedyLength,
  greedyPlaces,
  greedyShares,
  leastCommonLength,
  leastSquares,
  squaresOf,
} from './programs.ts';
import { type CaseOptions, type ProofCase, programRing, proofCase } from './proof-cases.ts';

export interface Tally {
  readonly cases: number;
  /** Seeds on which program and mixed-integer program disagree. */
  readonly differ: readonly number[];
  readonly greedyWorse: number;
  /** The smallest and the largest case: in pads, in micrometres of a gap, or in cells. */
  readonly sizes: readonly [least: number, most: number];
  /** Milliseconds of all cases. */
  readonly ours: number;
  readonly theirs: number;
}

/** One case: our answer and the milliseconds it took, whether the rule of thumb does worse, and the solver's answer. */
interface Question {
  readonly size: number;
  readonly ours: unknown;
  readonly took: number;
  readonly greedyWorse: boolean;
  readonly theirs: () => unknown;
}

/** A value and the milliseconds that it took to find. */
function timed<T>(find: () => T): { readonly value: T; readonly took: number } {
  const begun = performance.now();
  const value = find();
  return { value, took: performance.now() - begun };
}

/** Far beyond any gap that a proof's side can need. */
const LONGEST_GAP = 3000;

function tally(count: number, ask: (seed: number) => Question | null): Tally {
  const differ: number[] = [];
  let [cases, greedyWorse, ours, theirs] = [0, 0, 0, 0];
  let sizes: Tally['sizes'] = [Number.POSITIVE_INFINITY, 0];
  for (let seed = 0; cases < count; seed++) {
    const question = ask(seed);
    const easy = cases - greedyWorse;
    if (question === null || (!question.greedyWorse && easy + 1 > (2 * count) / 3)) continue;
    const begun = performance.now();
    const truth = question.theirs();
    theirs += performance.now() - begun;
    ours += question.took;
    if (JSON.stringify(truth) !== JSON.stringify(question.ours)) differ.push(seed);
    cases++;
    sizes = [Math.min(sizes[0], question.size), Math.max(sizes[1], question.size)];
    if (question.greedyWorse) greedyWorse++;
  }
  return { cases, differ, greedyWorse, sizes, ours, theirs };
}

export const tallyText = (
  what: string,
  { cases, greedyWorse, sizes, differ, ours, theirs }: Tally,
  unit = 'pads',
): string =>
  `${what}: ${cases} cases of ${sizes[0]} to ${sizes[1]} ${unit}, ${differ.length} with other answers, a rule of thumb worse on ${greedyWorse}; ${(ours / cases).toFixed(2)} ms ours, ${(theirs / cases).toFixed(0)} ms the solver${unit === 'pads' ? ' (told our answer as a bound)' : ''}, ratio ${(theirs / ours).toFixed(0)}`;

const padsOf = (cells: readonly ModelCell[]): number =>
  cells.reduce((sum, cell) => sum + cell.pads.length, 0);

const SIDE_STYLES: CaseOptions['styles'] = ['staggered', 'staggered', 'staggered', 'over-circuit', 'inline'];

/** Enough pads for rows as the model has them. */
const usable = ({ rules, cells }: Pick<ProofCase, 'rules' | 'cells'>): boolean =>
  !selfConflict(rules, cells) && cells.filter((cell) => cell.pads.length > 0).length >= 3;

/** A case in which one cell, in every third, is fixed at or beyond its first place. */
function withFixed(drawn: ProofCase, legal: readonly boolean[]): readonly ModelCell[] {
  const { rules, cells, random } = drawn;
  if (random() > 1 / 3) return cells;
  const places = greedyPlaces(modelSide(rules, cells), legal);
  const which = Math.floor(random() * cells.length);
  const place = places?.[which];
  if (place === undefined) return cells;
  let more = Math.floor(random() * 40);
  while (legal[more] !== true) more++;
  return cells.map((cell, i) => (i === which ? { ...cell, at: place + more } : cell));
}

/** Least lengths in micrometres of the sides that have cells; null where the ring cannot be packed. */
function measured(ring: Ring): ((side: Side) => number) | null {
  const planned = plan(ring);
  const found = planned.ok ? measure(planned.value) : null;
  return found === null ? null : (side) => leastLength(found, side) / 1e6;
}

/** The least length of one side. */
export const leastSideProof = (count: number, most: number): Tally =>
  tally(count, (seed) => {
    const drawn = proofCase(seed, {
      cells: [Math.floor(most / 2), most],
      styles: SIDE_STYLES,
      sections: false,
    });
    if (!usable(drawn)) return null;
    const { rules } = drawn;
    const legal = legalGaps(rules.fillers, LONGEST_GAP);
    const cells = withFixed(drawn, legal);
    const { ring } = programRing(rules, {
      left: drawn.cells,
      bottom: cells,
      right: drawn.cells,
      top: drawn.cells,
    });
    const { value, took } = timed(() => measured(ring));
    const ours = value?.('bottom');
    if (ours === undefined || !Number.isFinite(ours)) return null;
    const side = modelSide(rules, cells);
    const greedy = greedyLength(side, legal, 0);
    return {
      size: padsOf(cells),
      ours,
      // All four sides were measured.
      took: took / 4,
      greedyWorse: greedy === undefined || greedy > ours,
      theirs: () => leastCommonLength([side], rules, ours),
    };
  });

/** The least die: opposite sides share one length. */
export const leastDieProof = (count: number, most: number): Tally =>
  tally(count, (seed) => {
    const half = Math.floor(most / 2);
    const drawn = proofCase(seed, { cells: [most, most], styles: SIDE_STYLES, sections: false });
    const { rules, cells } = drawn;
    const legal = legalGaps(rules.fillers, LONGEST_GAP);
    const cut = half + Math.floor(drawn.random() * 3) - 1;
    const lists = {
      bottom: withFixed({ ...drawn, cells: cells.slice(0, cut) }, legal),
      top: cells.slice(cut),
      left: cells.slice(0, 5),
      right: cells.slice(2, 8),
    };
    if (!Object.values(lists).every((list) => usable({ rules, cells: list }))) return null;
    const planned = plan(programRing(rules, lists).ring);
    const { value: fit, took } = timed(() => (planned.ok ? fitSides(planned.value) : null));
    if (fit?.ok !== true) return null;
    const ours = [fit.value.die.width / 1e6, fit.value.die.height / 1e6] as const;
    const wide = [modelSide(rules, lists.bottom), modelSide(rules, lists.top)];
    const high = [modelSide(rules, lists.left), modelSide(rules, lists.right)];
    const greedy = [greedyCommon(wide, legal), greedyCommon(high, legal)] as const;
    const worse = (length: number | undefined, best: number): boolean =>
      length === undefined || length > best;
    return {
      size: padsOf(cells),
      ours,
      took,
      greedyWorse: worse(greedy[0], ours[0]) || worse(greedy[1], ours[1]),
      theirs: () => [leastCommonLength(wide, rules, ours[0]), leastCommonLength(high, rules, ours[1])],
    };
  });

interface FreeCase {
  readonly ring: Ring;
  readonly order: Order;
  readonly mayLie: readonly (readonly number[])[];
  readonly cuttable: readonly boolean[];
}

/** An order as the program has it: some cells bound to sides, some kept together, one fixed here and there. */
function freeCase(
  drawn: ProofCase,
  cells: readonly ModelCell[],
  mayLie: readonly (readonly number[])[],
  whole: number | null,
): FreeCase {
  const { ring, entryOf } = programRing(drawn.rules, {});
  const n = cells.length;
  const order: Order = {
    cells: cells.map((cell, i) => {
      const on: Partial<Record<Side, Entry>> = {};
      const entry = entryOf(cell);
      for (const [k, side] of SIDES.entries()) if (mayLie[i]?.includes(k)) on[side] = entry;
      return { on };
    }),
    groups: whole === null ? [] : [groupOf([0, 1, 2].map((k) => (whole + k) % n))],
  };
  const inside = whole === null ? [] : [1, 2].map((k) => (whole + k) % n);
  return { ring: { ...ring, order }, order, mayLie, cuttable: cells.map((_, i) => !inside.includes(i)) };
}

const groupOf = (cells: readonly number[]): OrderGroup => ({
  name: 'group',
  cells,
  sides: SIDES,
  whole: true,
  place: { file: 'ring.yaml', line: 1, column: 1 },
});

/** The larger and the smaller extent of a die, in micrometres. */
const extents = (die: { readonly width: number; readonly height: number }) => ({
  larger: Math.max(die.width, die.height) / 1e6,
  smaller: Math.min(die.width, die.height) / 1e6,
});

/** The cut into sides; awkward fillers where neighbours alone owe distances, every filler step where rows do. */
export const cutProof = (count: number, most: number): Tally =>
  tally(count, (seed) => {
    const plain = seed % 3 === 2;
    const drawn = proofCase(seed, {
      cells: [Math.max(14, Math.floor(most / 2)), most],
      styles: plain ? ['staggered', 'over-circuit'] : ['inline'],
      sections: true,
      plain,
    });
    const { rules, random } = drawn;
    const n = drawn.cells.length;
    const chance = (share: number): boolean => random() < share;
    const sides = [0, 1, 2, 3];
    const bound = chance(0.3) ? Math.floor(random() * n) : null;
    const fixed = chance(0.3) ? Math.floor(random() * n) : null;
    const some = sides.filter(() => chance(0.5));
    const only = Math.floor(random() * 4);
    const mayLie = drawn.cells.map((_, i) =>
      i === fixed ? [only] : i === bound && some.length > 0 ? some : sides,
    );
    const at = 340 + Math.floor(random() * 60) * 5;
    const cells = drawn.cells.map((cell, i) => (i === fixed ? { ...cell, at } : cell));
    if (!usable({ rules, cells })) return null;
    const free = freeCase(drawn, cells, mayLie, chance(0.3) ? Math.floor(random() * n) : null);
    const { value: cut, took } = timed(() => cutOrder(free.ring, free.order));
    if (!cut.ok || cut.notes.length > 0) return null;
    // The model has rows alike on all sides: cuts that gain from a side without two pads are left to the other test.
    const pads = SIDES.map((side) => cut.value.fit.rows[side].pads.length);
    if (pads.some((number) => number < 2)) return null;
    const ours = extents(cut.value.fit.die);
    const greedy = quarters(free.ring, free.order);
    return {
      size: padsOf(cells),
      ours,
      took,
      greedyWorse: greedy === null || greedy.larger > ours.larger || greedy.smaller > ours.smaller,
      theirs: () => leastCut({ rules, cells, mayLie, cuttable: free.cuttable }, ours.larger),
    };
  });

/** The rule of thumb for a cut: a quarter of the cells a side, from the first one on. Null where that cannot be laid. */
function quarters(ring: Ring, order: Order): { readonly larger: number; readonly smaller: number } | null {
  const n = order.cells.length;
  const entries: Record<Side, Entry[]> = { left: [], bottom: [], right: [], top: [] };
  for (const [i, cell] of order.cells.entries()) {
    const side = SIDES[Math.floor((4 * i) / n)] ?? 'top';
    const entry = cell.on[side];
    if (entry === undefined) return null;
    entries[side].push(entry);
  }
  const { order: _, ...rest } = ring;
  const of = (side: Side): Ring['sides'][Side] => ({ ...ring.sides[side], entries: entries[side] });
  const planned = plan({
    ...rest,
    sides: { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') },
  });
  const fit = planned.ok ? fitSides(planned.value) : null;
  return fit?.ok === true ? extents(fit.value.die) : null;
}

/** The fewest fillers of a gap, or that it cannot be filled. */
export const fillersProof = (count: number, most: number): Tally =>
  tally(count, (seed) => {
    const random = numbers(seed + 7);
    const kinds = 2 + Math.floor(random() * 3);
    const widths = new Set(Array.from({ length: kinds }, () => 2 + Math.floor(random() * 18)));
    const fillers: ModelRules['fillers'] = [...widths].map((width, i) => ({
      width,
      alone: i === 0 || random() < 0.7,
    }));
    const gap = 1 + Math.floor(random() * most);
    const set = fillerSet(
      fillers.map((f) => footprint(`f${f.width}`, 'filler', f.width, { standsAlone: f.alone })),
    );
    const { value: ours, took } = timed(() =>
      set.isLegal(um(gap)) ? set.fewest(um(gap)).length : undefined,
    );
    const greedy = greedyFillers(gap, fillers);
    return {
      size: gap,
      ours,
      took,
      greedyWorse: ours !== undefined && (greedy === undefined || greedy > ours),
      theirs: () => fewestFillers(gap, fillers),
    };
  });

/** Slack shared among the gaps, as evenly as what holds the cells lets it. */
export const slackProof = (count: number, most: number): Tally =>
  tally(count, (seed) => {
    const random = numbers(seed + 11);
    const cells = 1 + Math.floor(random() * most);
    const total = 1 + Math.floor(random() * most);
    const caps = Array.from({ length: cells }, () => (random() < 0.3 ? Math.floor(random() * total) : total));
    const { value: shares, took } = timed(() => evenShares(total, caps));
    const ours = squaresOf(total, shares);
    const kept = shares.every((share, i) => share <= (caps[i] ?? total) && share >= (shares[i - 1] ?? 0));
    return {
      size: cells,
      ours: kept ? ours : 'a cap is broken',
      took,
      greedyWorse: squaresOf(total, greedyShares(total, caps)) > ours,
      theirs: () => leastSquares(total, caps),
    };
  });
