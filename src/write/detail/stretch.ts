/** The tightest stretch of a style: the two pads of one row that stand closest, and their neighbours. */
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
  /** The closest two pads of one row; undefined where no row of the style has two. */
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
  readonly pair: readonly [SeenPad, SeenPad] | undefined;
}

export function tightest(placement: Placement, style: Style): TightStretch | undefined {
  const candidates = placement.sides
    .filter((side) => side.style === style)
    .map(({ side }): Candidate => {
      const pads = padsOn(placement, side);
      return { side, pads, pair: closest(pads) };
    })
    .filter(({ pads }) => pads.length > 0);
  const [first, ...others] = candidates;
  if (first === undefined) return undefined;
  const best = others.reduce((least, other) => (pitchOf(other) < pitchOf(least) ? other : least), first);
  return around(placement, style, best);
}

const pitchOf = ({ pair }: Candidate): number => (pair ? pair[1].s - pair[0].s : Number.POSITIVE_INFINITY);

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

/** The least pitch; among equals one of the outer row, nearest the middle of its side. */
function closest(pads: readonly SeenPad[]): Candidate['pair'] {
  const place = new Map(pads.map((pad, i) => [pad, i]));
  const centre = (pair: readonly [SeenPad, SeenPad]) =>
    Math.abs((place.get(pair[0]) ?? 0) + (place.get(pair[1]) ?? 0) - (pads.length - 1)) +
    (pair[0].pad.row === 'inner' ? pads.length : 0);
  let best: Candidate['pair'];
  for (const pair of neighbours(pads)) {
    const gain = best === undefined ? 1 : best[1].s - best[0].s - (pair[1].s - pair[0].s);
    if (best === undefined || gain > TOLERANCE || (gain > -TOLERANCE && centre(pair) < centre(best)))
      best = pair;
  }
  return best;
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
