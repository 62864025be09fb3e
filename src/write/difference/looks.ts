/** How each kind of change looks: a colour, and a mark that says the same without it. */
import type { Difference } from '../../compare/difference.ts';
import { matchPins, type PinView } from '../../compare/pins.ts';
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
  const { kept, added, removed } = matchPins(a, b);
  const keys = (list: readonly { readonly pin: string }[]): ReadonlySet<string> =>
    new Set(list.map(({ pin }) => pin));
  const crossed = keys(difference.moved.filter(({ along }) => along === null));
  const slid = keys(difference.moved.filter(({ along }) => along !== null));
  const changed = keys(difference.changed);
  const renumbered = keys(difference.renumbered.length <= FEW ? difference.renumbered : []);
  const marks = (kind: Kind, pins: readonly PinView[]): Marked[] => pins.map((pin) => ({ kind, pin }));
  const now = (which: ReadonlySet<string>): readonly PinView[] =>
    kept.flatMap(([, to]) => (which.has(to.key) ? [to] : []));
  const all = [
    ...marks('added', added),
    ...marks('moved', now(crossed)),
    ...marks('changed', now(changed)),
    ...marks('moved', now(slid)),
    ...marks('renumbered', now(renumbered)),
  ];
  const seen = new Set<PinView>();
  return {
    before: [
      ...marks('removed', removed),
      ...marks(
        'moved',
        kept.flatMap(([from, to]) => (crossed.has(to.key) ? [from] : [])),
      ),
    ],
    now: all.filter(({ pin }) => !seen.has(pin) && seen.add(pin)),
  };
}
