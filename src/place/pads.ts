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
  readonly number: number;
}

/** The bond pads by number. */
export function numberedPads(fit: Fit): readonly PlacedPad[] {
  const { ring } = fit.plan;
  const around = SIDES.flatMap((side) => sidePads(fit, side));
  return numberingOrder(ring, around).map(({ side, pad, cell, s }, i) => ({
    side,
    pad,
    cell,
    s,
    number: i + 1,
  }));
}

type Unnumbered = Omit<PlacedPad, 'number'>;

/** The pads of a side along s; of two at one place the outer one first. */
function sidePads(fit: Fit, side: Side): readonly Unnumbered[] {
  const rows = fit.rows[side];
  return padsInOrder(rows)
    .map((pad) => ({
      side,
      pad,
      cell: rows.cells[pad.cell]?.name ?? '',
      s: units((fit.places[side][pad.cell] ?? 0) + pad.offset),
    }))
    .sort((a, b) => a.s - b.s || a.pad.t - b.pad.t);
}

/** Pad 1 is the first or last of the start side, or of the next side that has any in the direction of counting. */
function numberingOrder(ring: Ring, around: readonly Unnumbered[]): readonly Unnumbered[] {
  const { side, end, direction } = ring.numbering;
  const forward = direction === 'counter-clockwise';
  const list = forward ? around : [...around].reverse();
  const sides = forward ? [...SIDES] : [...SIDES].reverse();
  const from = sides.indexOf(side);
  const searched = [...sides.slice(from), ...sides.slice(0, from)];
  for (const candidate of searched) {
    const own = list.flatMap((pad, i) => (pad.side === candidate ? [i] : []));
    if (own.length === 0) continue;
    // `first` and `last` are counter-clockwise; only the start side's own end matters.
    const leading = candidate !== side || (end === 'first') === forward;
    const start = (leading ? own[0] : own.at(-1)) ?? 0;
    return [...list.slice(start), ...list.slice(0, start)];
  }
  return list;
}

export function bondPadOf(fit: Fit, placed: PlacedPad): BondPad {
  const { pad, side, s } = placed;
  const { along, deep, opening } = pad;
  const outline = rectOnDie(side, fit.die, s - along / 2, pad.t, along, deep);
  const horizontal = isHorizontal(side);
  const bondPad: BondPad = {
    number: placed.number,
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
export function stemOf(fit: Fit, placed: PlacedPad): Stem | null {
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
    bondPad: placed.number,
    layers: stems.layers,
    x: micrometres(rect.x),
    y: micrometres(rect.y),
    width: micrometres(rect.width),
    height: micrometres(rect.height),
  };
}
