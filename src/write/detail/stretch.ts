/** The tightest stretch of a style: where pads of a row, or what lies between them, come closest to their limits. */
import type { BondPad, PlacedCell, Placement, Stem } from '../../format/placement.ts';
import type { Side } from '../../geometry/side.ts';
import { boxAround, type Stretch, seenFrom, stretchOn } from '../frame.ts';

export type Style = Placement['sides'][number]['style'];

export interface SeenPad extends Stretch {
  readonly pad: BondPad;
  /** Its centre. */
  readonly s: number;
  readonly opening: Stretch;
}

export interface SeenStem extends Stretch {
  readonly stem: Stem;
}

export interface SeenCell extends Stretch {
  readonly cell: PlacedCell;
}

/** A part of a side in the side's own frame, in micrometres. */
export interface TightStretch {
  readonly style: Style;
  readonly side: Side;
  readonly pads: readonly SeenPad[];
  /** Neighbours of one row, around the tightest place; undefined where no row of the style has two. */
  readonly pair: readonly [SeenPad, SeenPad] | undefined;
  readonly stems: readonly SeenStem[];
  readonly cells: readonly SeenCell[];
  readonly s0: number;
  readonly s1: number;
  /** How far inward it is shown. */
  readonly t1: number;
}

const order: readonly Style[] = ['inline', 'staggered', 'over-circuit', 'in-cell'];

/** The styles of sides that have pads. */
export const stylesInUse = ({ sides }: Placement): readonly Style[] =>
  order.filter((style) => sides.some((side) => side.style === style && side.bondPads > 0));

interface Candidate {
  readonly side: Side;
  readonly pads: readonly SeenPad[];
  readonly stems: ReadonlyMap<number, Stretch>;
  readonly pair: Pair | undefined;
  /** How far the closest distance of the pair stays above its limit. */
  readonly slack: number;
}

type Pair = readonly [SeenPad, SeenPad];

export function tightest(placement: Placement, style: Style): TightStretch | undefined {
  const candidates = placement.sides
    .filter((side) => side.style === style)
    .map(({ side }) => candidateOf(placement, side))
    .filter(({ pads }) => pads.length > 0);
  const [first, ...others] = candidates;
  if (first === undefined) return undefined;
  const best = others.reduce((least, other) => (other.slack < least.slack ? other : least), first);
  return around(placement, style, best);
}

function padsOn(placement: Placement, side: Side): readonly SeenPad[] {
  const { die } = placement;
  return placement.bondPads
    .filter((pad) => pad.side === side)
    .map((pad) => ({
      pad,
      s: seenFrom(side, die, pad.x, pad.y).s,
      ...stretchOn(side, die, boxAround(pad.x, pad.y, pad)),
      opening: stretchOn(side, die, boxAround(pad.x, pad.y, pad.opening)),
    }))
    .sort((a, b) => a.s - b.s || a.pad.number - b.pad.number);
}

/** Neighbours of each row. */
export function neighbours(pads: readonly SeenPad[]): readonly (readonly [SeenPad, SeenPad])[] {
  const last = new Map<string, SeenPad>();
  const pairs: [SeenPad, SeenPad][] = [];
  for (const pad of pads) {
    const before = last.get(pad.pad.row);
    if (before !== undefined) pairs.push([before, pad]);
    last.set(pad.pad.row, pad);
  }
  return pairs;
}

const TOLERANCE = 1e-7;

/** A side's tightest pair; among equals one of the outer row, nearest the middle of the side. */
function candidateOf(placement: Placement, side: Side): Candidate {
  const pads = padsOn(placement, side);
  const numbers = new Set(pads.map(({ pad }) => pad.number));
  const stems = new Map(
    placement.stems
      .filter(({ bondPad }) => numbers.has(bondPad))
      .map((stem) => [stem.bondPad, stretchOn(side, placement.die, stem)]),
  );
  const place = new Map(pads.map((pad, i) => [pad, i]));
  const eccentric = ([a, b]: Pair) =>
    Math.abs((place.get(a) ?? 0) + (place.get(b) ?? 0) - (pads.length - 1)) +
    (a.pad.row === 'inner' ? pads.length : 0);
  let best: Candidate = { side, pads, stems, pair: undefined, slack: Number.POSITIVE_INFINITY };
  for (const pair of neighbours(pads)) {
    const between = pads.slice(place.get(pair[0]), (place.get(pair[1]) ?? 0) + 1);
    const slack = slackOf(placement, pair, between, stems);
    const gain = best.pair === undefined ? 1 : best.slack - slack;
    if (
      best.pair === undefined ||
      gain > TOLERANCE ||
      (gain > -TOLERANCE && eccentric(pair) < eccentric(best.pair))
    )
      best = { side, pads, stems, pair, slack };
  }
  return best;
}

/** The least that pitch, spacing or a stem's clearance stay above their limits, from one pad of a pair to the other. */
function slackOf(
  { rules }: Placement,
  [a, b]: Pair,
  between: readonly SeenPad[],
  stems: ReadonlyMap<number, Stretch>,
): number {
  const clearances = between.flatMap(({ pad, s }) => {
    const stem = stems.get(pad.number);
    if (stem === undefined) return [];
    return between
      .filter((other) => other.pad !== pad && stem.t0 < other.t1 && other.t0 < stem.t1)
      .map((other) => (other.s > s ? other.s0 - stem.s1 : stem.s0 - other.s1) - rules.stems.spacing);
  });
  return Math.min(b.s - a.s - rules.pads.pitch, b.s0 - a.s1 - rules.pads.spacing, ...clearances);
}

/** The pair with a pad beyond it at both ends, and whatever stands there. */
function around(placement: Placement, style: Style, { side, pads, pair }: Candidate): TightStretch {
  const { die } = placement;
  const first = pair ? pads.indexOf(pair[0]) : 0;
  const last = pair ? pads.indexOf(pair[1]) : 0;
  const shown = pads.slice(Math.max(0, first - 1), last + 2);
  const bounds = shown.map(({ s0 }) => s0).concat(shown.map(({ s1 }) => s1));
  const [low, high] = [Math.min(...bounds), Math.max(...bounds)];
  const margin = (high - low) * 0.04;
  const [s0, s1] = [low - margin, high + margin];
  const seen = <T>(items: readonly T[], stretch: (item: T) => Stretch) =>
    items
      .map((item) => ({ item, ...stretch(item) }))
      .filter((one) => one.s0 < s1 && s0 < one.s1)
      .sort((a, b) => a.s0 - b.s0);
  const onSide = placement.cells.filter((cell) => cell.side === side || cell.side === null);
  const cells = seen(onSide, (cell) => stretchOn(side, die, cell)).map(({ item, ...rest }) => ({
    cell: item,
    ...rest,
  }));
  const numbers = new Set(pads.map(({ pad }) => pad.number));
  const stems = seen(
    placement.stems.filter(({ bondPad }) => numbers.has(bondPad)),
    (stem) => stretchOn(side, die, stem),
  ).map(({ item, ...rest }) => ({ stem: item, ...rest }));
  const own = cells.filter(({ cell }) => cell.side === side);
  const edge = Math.min(...own.map(({ t0 }) => t0));
  const far = Math.max(...own.map(({ t1 }) => t1));
  const inner = Math.max(...shown.map(({ t1 }) => t1));
  const t1 = Math.min(far, Math.max(edge, inner) + 0.22 * Math.max(edge, inner));
  return { style, side, pads: shown, pair, stems, cells, s0, s1, t1: Number.isFinite(t1) ? t1 : inner * 1.2 };
}
