/** The pins of a placement as the difference sees them: each with its place in its side's frame. */
import type { BondPad, PlacedCell, Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { PER_MICROMETRE } from '../geometry/units.ts';

/**
 * Micrometres; `s` along the side counter-clockwise from the die's corner, `t` inward from the die's edge, so that a
 * pin stays where it is when the die grows behind it. `x` and `y` are the same point on the die.
 */
export interface PinPlace {
  readonly side: Side;
  readonly s: number;
  readonly t: number;
  readonly x: number;
  readonly y: number;
}

export interface PinView {
  /** Unique in its ring: of pads that share a pin's name, as supplies do, each but the first has its count behind it. */
  readonly key: string;
  readonly pin: string;
  /** Its bond pad's; null where it has none. */
  readonly number: number | null;
  readonly net: string | null;
  /** The footprint of its cell. */
  readonly cell: string;
  readonly section: string | null;
  /** The centre of its bond pad, or of its cell where it has none. */
  readonly place: PinPlace;
  /** Everything else about it that someone could have changed, in words. */
  readonly details: Readonly<Record<Detail, string>>;
}

export const DETAILS = [
  'row',
  'bond pad',
  'opening',
  'landing',
  'place on its cell',
  'drawing',
  'tied inputs',
  'cell name',
] as const;
export type Detail = (typeof DETAILS)[number];

export const rounded = (length: number): number => Math.round(length * PER_MICROMETRE) / PER_MICROMETRE + 0;

/** A point of the die in a side's frame. */
export function placeOn(side: Side, die: Placement['die'], x: number, y: number): PinPlace {
  const [s, t] =
    side === 'bottom'
      ? [x, y]
      : side === 'right'
        ? [y, die.width - x]
        : side === 'top'
          ? [die.width - x, die.height - y]
          : [die.height - y, x];
  return { side, s: rounded(s), t: rounded(t), x: rounded(x), y: rounded(y) };
}

/** The centre of a placed outline. */
export const centreOf = (box: {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}): { x: number; y: number } => ({ x: box.x + box.width / 2, y: box.y + box.height / 2 });

/** All pins in the order of the cells, which is ring order. */
export function pinsOf(placement: Placement): readonly PinView[] {
  const left = new Map<string, BondPad[]>();
  for (const pad of placement.bondPads) left.set(pad.cell, [...(left.get(pad.cell) ?? []), pad]);
  const counts = new Map<string, number>();
  const views: PinView[] = [];
  const push = (pin: string, pad: BondPad | undefined, cell: PlacedCell | undefined): void => {
    const side = pad?.side ?? cell?.side;
    const centre = pad ?? (cell && centreOf(cell));
    if (!side || !centre) return;
    const count = (counts.get(pin) ?? 0) + 1;
    counts.set(pin, count);
    const place = placeOn(side, placement.die, centre.x, centre.y);
    views.push({
      key: count === 1 ? pin : `${pin} (${count})`,
      pin,
      number: pad?.number ?? null,
      net: pad?.net ?? null,
      cell: cell?.footprint ?? pad?.cell ?? '',
      section: cell?.section ?? null,
      place,
      details: detailsOf(placement, place, pad, cell),
    });
  };
  for (const cell of placement.cells) {
    const pads = left.get(cell.name) ?? [];
    left.delete(cell.name);
    for (const pin of cell.pins ?? []) {
      const at = pads.findIndex((pad) => pad.pin === pin);
      push(pin, at < 0 ? undefined : pads.splice(at, 1)[0], cell);
    }
    for (const pad of pads) push(pad.pin, pad, cell);
  }
  for (const pad of [...left.values()].flat()) push(pad.pin, pad, undefined);
  return views;
}

export interface PinMatch {
  /** Pins of both rings, before and now, in the order of now. */
  readonly kept: readonly (readonly [PinView, PinView])[];
  readonly added: readonly PinView[];
  readonly removed: readonly PinView[];
}

/**
 * The pins of two rings by name. Of several of one name those that stand where one stood are the same, then those on
 * one side in order, then the others in order.
 */
export function matchPins(a: Placement, b: Placement): PinMatch {
  const free = new Map<string, PinView[]>();
  const all = pinsOf(a);
  for (const pin of all) free.set(pin.pin, [...(free.get(pin.pin) ?? []), pin]);
  const now = pinsOf(b);
  const match = new Map<PinView, PinView>();
  const alike: readonly ((from: PinPlace, to: PinPlace) => boolean)[] = [
    (from, to) => from.side === to.side && from.s === to.s && from.t === to.t,
    (from, to) => from.side === to.side && from.s === to.s,
    (from, to) => from.side === to.side,
    () => true,
  ];
  for (const same of alike)
    for (const pin of now) {
      if (match.has(pin)) continue;
      const left = free.get(pin.pin) ?? [];
      const at = left.findIndex((other) => same(other.place, pin.place));
      const [found] = at < 0 ? [] : left.splice(at, 1);
      if (found) match.set(pin, found);
    }
  const gone = new Set([...free.values()].flat());
  return {
    kept: now.flatMap((pin): readonly (readonly [PinView, PinView])[] => {
      const from = match.get(pin);
      return from ? [[from, pin]] : [];
    }),
    added: now.filter((pin) => !match.has(pin)),
    removed: all.filter((pin) => gone.has(pin)),
  };
}

function detailsOf(
  placement: Placement,
  place: PinPlace,
  pad: BondPad | undefined,
  cell: PlacedCell | undefined,
): Record<Detail, string> {
  const across = place.side === 'left' || place.side === 'right';
  const size = ({ width, height }: { readonly width: number; readonly height: number }): string =>
    across ? `${height} x ${width}` : `${width} x ${height}`;
  const centre = cell && centreOf(cell);
  const onCell = centre && placeOn(place.side, placement.die, centre.x, centre.y);
  return {
    row: pad?.row ?? 'none',
    'bond pad': pad ? size(pad) : 'none',
    opening: pad ? size(pad.opening) : 'none',
    landing: pad?.landing ?? 'none',
    'place on its cell': onCell ? `${rounded(place.s - onCell.s)} along from its middle` : 'no cell',
    drawing: cell ? `${cell.mirrored ? 'mirrored' : 'plain'}` : 'none',
    'tied inputs':
      Object.entries(cell?.tied ?? {})
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([name, value]) => `${name} ${value}`)
        .join(', ') || 'none',
    'cell name': cell?.name ?? 'none',
  };
}
