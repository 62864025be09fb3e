/** How each kind of change looks: a colour, and a mark that says the same without it. */
import type { Difference } from '../../compare/difference.ts';
import { type PinView, pinsOf } from '../../compare/pins.ts';
import type { Placement } from '../../format/placement.ts';
import { INK } from '../palette.ts';

export const KINDS = ['added', 'removed', 'moved', 'changed', 'renumbered'] as const;
export type Kind = (typeof KINDS)[number];

export const LOOKS: Readonly<Record<Kind, { readonly colour: string; readonly tint: string }>> = {
  added: { colour: '#0f5c6e', tint: '#cfe3e6' },
  removed: { colour: INK.alarm, tint: '#f0d3da' },
  moved: { colour: '#b5651d', tint: '#f6e3cf' },
  changed: { colour: '#5a3f8f', tint: '#e2daf0' },
  renumbered: { colour: INK.quiet, tint: '#e4e8ea' },
};

/** A pin that is marked on a die, as what weighs most about it. */
export interface Marked {
  readonly kind: Kind;
  readonly pin: PinView;
}

/** More renumbered pins than these are a shifted row, which marks would only hide. */
const FEW = 16;

/** The pins to mark on each die; a pin that stayed is marked on the later one only. */
export function markedPins(
  a: Placement,
  b: Placement,
  difference: Difference,
): { readonly before: readonly Marked[]; readonly now: readonly Marked[] } {
  const [old, fresh] = [byKey(a), byKey(b)];
  const pick = (pins: ReadonlyMap<string, PinView>, kind: Kind, keys: readonly string[]): Marked[] =>
    keys.flatMap((key) => {
      const pin = pins.get(key);
      return pin ? [{ kind, pin }] : [];
    });
  const crossed = difference.moved.filter(({ along }) => along === null).map(({ pin }) => pin);
  const slid = difference.moved.filter(({ along }) => along !== null).map(({ pin }) => pin);
  const renumbered = difference.renumbered.length <= FEW ? difference.renumbered.map(({ pin }) => pin) : [];
  const now = [
    ...pick(
      fresh,
      'added',
      difference.added.map(({ pin }) => pin),
    ),
    ...pick(fresh, 'moved', crossed),
    ...pick(
      fresh,
      'changed',
      difference.changed.map(({ pin }) => pin),
    ),
    ...pick(fresh, 'moved', slid),
    ...pick(fresh, 'renumbered', renumbered),
  ];
  return {
    before: [
      ...pick(
        old,
        'removed',
        difference.removed.map(({ pin }) => pin),
      ),
      ...pick(old, 'moved', crossed),
    ],
    now: now.filter(({ pin }, i) => now.findIndex((other) => other.pin.key === pin.key) === i),
  };
}

const byKey = (placement: Placement): ReadonlyMap<string, PinView> =>
  new Map(pinsOf(placement).map((pin) => [pin.key, pin]));
