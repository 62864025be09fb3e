/** Bond pads and stems in the die, numbered around the ring. */
import type { Fit } from '../fit/fit.ts';
import type { SidePad } from '../fit/rows.ts';
import { padsInOrder } from '../fit/rules.ts';
import type { BondPad, Stem } from '../format/placement.ts';
import { isHorizontal, type Rect, rectOnDie, SIDES, type Side } from '../geometry/side.ts';
import { micrometres, PER_MICROMETRE, type Units, units } from '../geometry/units.ts';
import type { Ring } from '../spec/ring.ts';

/** A bond pad with its place along its side. */
export interface PlacedPad {
  readonly side: Side;
  readonly pad: SidePad;
  readonly cell: string;
  /** Its centre along s. */
  readonly s: Units;
}

/** The bond pads in the order of their numbers, which count from 1. */
export const padsByNumber = (fit: Fit): readonly PlacedPad[] =>
  numberingOrder(
    fit.plan.ring,
    SIDES.flatMap((side) => sidePads(fit, side)),
  );

/** The pads of a side along s; of two at one place the outer one first. */
function sidePads(fit: Fit, side: Side): readonly PlacedPad[] {
  const rows = fit.rows[side];
  const pads = padsInOrder(rows).map((pad) => ({
    side,
    pad,
    cell: rows.cells[pad.cell]?.name ?? '',
    s: units((fit.places[side][pad.cell] ?? 0) + pad.offset),
  }));
  return pads.every((b, i) => i === 0 || along(pads[i - 1] ?? b, b) <= 0) ? pads : pads.sort(along);
}

const along = (a: PlacedPad, b: PlacedPad): number => a.s - b.s || a.pad.t - b.pad.t;

/** Pad 1 is the first or last of the start side, or of the next side that has any in the direction of counting. */
function numberingOrder(ring: Ring, around: readonly PlacedPad[]): readonly PlacedPad[] {
  const { side, end, direction } = ring.numbering;
  const forward = direction === 'counter-clockwise';
  const list = forward ? around : [...around].reverse();
  const sides = forward ? [...SIDES] : [...SIDES].reverse();
  const from = sides.indexOf(side);
  const searched = [...sides.slice(from), ...sides.slice(0, from)];
  for (const candidate of searched) {
    const leads = list.findIndex((pad) => pad.side === candidate);
    if (leads < 0) continue;
    // `first` and `last` are counter-clockwise; only the start side's own end matters.
    const leading = candidate !== side || (end === 'first') === forward;
    const start = leading ? leads : list.findLastIndex((pad) => pad.side === candidate);
    return start === 0 ? list : [...list.slice(start), ...list.slice(0, start)];
  }
  return list;
}

export function bondPadOf(fit: Fit, placed: PlacedPad, number: number): BondPad {
  const { pad, side, s } = placed;
  const { along, deep, opening } = pad;
  const outline = rectOnDie(side, fit.die, s - along / 2, pad.t, along, deep);
  const horizontal = isHorizontal(side);
  const bondPad: BondPad = {
    number,
    pin: pad.pin,
    net: pad.net,
    cell: placed.cell,
    landing: pad.landing.name,
    side,
    row: pad.row,
    x: (outline.x + outline.width / 2) / PER_MICROMETRE,
    y: (outline.y + outline.height / 2) / PER_MICROMETRE,
    width: micrometres(outline.width),
    height: micrometres(outline.height),
    opening: {
      width: micrometres(horizontal ? opening.along : opening.deep),
      height: micrometres(horizontal ? opening.deep : opening.along),
    },
  };
  const shift = fit.rows[side].cells[pad.cell]?.entry?.shift ?? 0;
  return shift === 0 ? bondPad : { ...bondPad, shift: shift / PER_MICROMETRE };
}

/** The metal from an outside bond pad to its landing; null where the pad lies on its cell. */
export function stemOf(fit: Fit, placed: PlacedPad, number: number): Stem | null {
  const { pad, side, s } = placed;
  if (pad.stem === null) return null;
  const { stems } = fit.plan.ring;
  const centre = s - pad.offset + pad.landingOffset;
  const rect: Rect = rectOnDie(
    side,
    fit.die,
    centre - stems.width / 2,
    pad.stem.from,
    stems.width,
    pad.stem.to - pad.stem.from,
  );
  return {
    bondPad: number,
    layers: stems.layers,
    x: micrometres(rect.x),
    y: micrometres(rect.y),
    width: micrometres(rect.width),
    height: micrometres(rect.height),
  };
}
