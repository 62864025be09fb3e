/** Names side by side: how far they are spread, how far out they then stand, and the room that they ask for. */
import type { BondPad } from '../format/placement.ts';
import { lies, type Side } from './geometry.ts';
import type { Model } from './model.ts';

/** The height of a name's line, in pixels. */
export const LINE = 13;
/** From the die's edge to the names: longer where leaders have to run aside. */
export const GAP = { least: 9, most: 46 } as const;
/** From the names to the edge of the drawing's box. */
export const EDGE = 4;
/** A leader runs aside at most this many times as far as outward. */
const STEEPEST = 2.3;
/** The most of the box that the names of one side take. */
const MOST = 0.29;
/** Longer names are cut. */
const LONGEST = 26;

/** Marks that reorder what stands beside them. */
const REORDERING = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** A name for a label: cut where it is long, and kept from reordering the number beside it. */
function shortened(name: string): string {
  const letters = [...name.replace(REORDERING, '\ufffd')];
  const short = letters.length <= LONGEST ? letters.join('') : `${letters.slice(0, LONGEST - 1).join('')}…`;
  return /^[ -~…]*$/.test(short) ? short : `\u2068${short}\u2069`;
}

/** Outward, the number stands next to the die. */
export function textOf(pad: BondPad, side: Side): string {
  const name = shortened(pad.pin);
  return side === 'left' || side === 'bottom' ? `${name}  ${pad.number}` : `${pad.number}  ${name}`;
}

/** The stretch of the box, in pixels, that names have to keep within. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
}

/** Places a line apart for the names, and how far out they have to stand for their leaders: infinitely, if there is no room. */
export function fanned(
  wishes: readonly number[],
  { low, high }: Bounds,
): { readonly places: readonly number[]; readonly gap: number } {
  if (wishes.length * LINE > high - low) return { places: wishes, gap: Number.POSITIVE_INFINITY };
  const places = spread(wishes, { low, high });
  const aside = Math.max(0, ...wishes.map((at, i) => Math.abs((places[i] ?? at) - at)));
  return { places, gap: Math.max(GAP.least, aside / STEEPEST) };
}

/**
 * Places at least a line apart that lie nearest to the wished ones in the sum of squares: neighbours that come too
 * close form a block, which stands where its members' mean wants it, or at the end of the bounds.
 */
function spread(wishes: readonly number[], { low, high }: Bounds): readonly number[] {
  const blocks: { sum: number; count: number }[] = [];
  for (const [i, wish] of wishes.entries()) {
    blocks.push({ sum: wish - i * LINE, count: 1 });
    for (;;) {
      const [before, last] = [blocks.at(-2), blocks.at(-1)];
      if (before === undefined || last === undefined) break;
      if (before.sum / before.count <= last.sum / last.count) break;
      blocks.splice(-2, 2, { sum: before.sum + last.sum, count: before.count + last.count });
    }
  }
  const [first, last] = [low + LINE / 2, high - LINE / 2 - (wishes.length - 1) * LINE];
  return blocks
    .flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count))
    .map((place, i) => Math.max(first, Math.min(last, place)) + i * LINE);
}

/** Room for the names outside the die in a box of a size; only for numbers where names would not fit anyway. */
export function roomOf(
  { placement }: Model,
  measure: (text: string) => number,
  box: { readonly width: number; readonly height: number },
): { readonly beside: number; readonly above: number } {
  const { die, bondPads } = placement;
  const longest = (flat: boolean, text: (pad: BondPad) => string): number =>
    bondPads.reduce((most, pad) => (lies(pad.side) === flat ? Math.max(most, measure(text(pad))) : most), 0);
  const room = (
    text: (pad: BondPad) => string,
    gap: { readonly beside: number; readonly above: number },
  ) => ({
    beside: Math.min(longest(false, text) + gap.beside + 2 * EDGE, box.width * MOST),
    above: Math.min(longest(true, text) + gap.above + 2 * EDGE, box.height * MOST),
  });
  let gaps = { beside: GAP.least as number, above: GAP.least as number };
  // Longer leaders leave less to the die, and that asks for longer ones again: a few rounds settle it.
  for (let round = 0; round < 4; round++) {
    const names = room((pad) => textOf(pad, pad.side), gaps);
    if (names.beside >= box.width * MOST || names.above >= box.height * MOST) break;
    const k = Math.min(
      (box.width - 2 * names.beside) / die.width,
      (box.height - 2 * names.above) / die.height,
    );
    const boundsOn = (side: Side, scale: number): Bounds => {
      const [own, all] = lies(side) ? [die.width, box.width] : [die.height, box.height];
      const beyond = (all - own * scale) / 2;
      return { low: -beyond, high: own * scale + beyond };
    };
    const gapOn = (side: Side): number =>
      fanned(
        bondPads
          .filter((pad) => pad.side === side)
          .map((pad) => k * (lies(side) ? pad.x : pad.y))
          .sort((a, b) => a - b),
        boundsOn(side, k),
      ).gap;
    const wanted = {
      beside: Math.max(gapOn('left'), gapOn('right')),
      above: Math.max(gapOn('top'), gapOn('bottom')),
    };
    if (Math.min(wanted.beside, wanted.above) > GAP.most) break;
    if (wanted.beside <= gaps.beside && wanted.above <= gaps.above) return names;
    gaps = { beside: Math.min(GAP.most, wanted.beside), above: Math.min(GAP.most, wanted.above) };
    if (round === 3) return names;
  }
  return room((pad) => String(pad.number), { beside: GAP.least, above: GAP.least });
}
