/** What each wire is by itself: length, angle, current. */
import { within } from '../../figures/figure.ts';
import type { Wire } from '../wires.ts';
import { ampere, at, type Bonded, called, degrees, itemsOf, type Look, type Looking, um } from './say.ts';

/** A hit for every wire that a question is answered for. */
const each =
  (ask: (wire: Wire, of: Bonded) => string | null): Look =>
  (of) =>
    of.wires.flatMap((wire) => {
      const message = ask(wire, of);
      return message === null
        ? []
        : [{ message, items: itemsOf(wire), at: at(of, wire.from.x, wire.from.y) }];
    });

const span = each((wire, { bonded }) => {
  const { least, most } = bonded.limits.span;
  if (most !== null && wire.span > most && !within(wire.span, most))
    return `${called(wire)} is ${um(wire.span, most)} long in plan; at most ${most} um are allowed`;
  return least !== null && wire.span < least && !within(least, wire.span)
    ? `${called(wire)} is ${um(wire.span, least)} long in plan; at least ${least} um are asked for`
    : null;
});

const length = each((wire, { bonded }) => {
  const most = bonded.limits.length;
  return most !== null && !within(wire.length, most)
    ? `${called(wire)} is ${um(wire.length, most)} long with its loop; at most ${most} um are allowed`
    : null;
});

const angle = each((wire, { bonded }) => {
  const most = bonded.limits.angle;
  return most !== null && !within(wire.angle, most)
    ? `${called(wire)} stands at ${degrees(wire.angle)} to the normal of the ${wire.side} side; at most ${most} are allowed`
    : null;
});

const current = each((wire) =>
  wire.current !== null && !within(wire.current, wire.mostCurrent)
    ? `${called(wire)} carries ${ampere(wire.current, wire.mostCurrent)} A; a wire of that metal, thickness and length may carry ${ampere(wire.mostCurrent)} A`
    : null,
);

export const SINGLE_RULES: readonly Looking[] = [
  {
    name: 'wire-span',
    severity: 'error',
    protects: "That the assembly house's machines can draw every wire.",
    mend: 'Choose a nearer finger, another package, or another place for the pin.',
    look: span,
  },
  {
    name: 'wire-length',
    severity: 'error',
    protects: 'That no wire is so long that it sags or sweeps.',
    mend: 'Choose a nearer finger or a lower loop.',
    look: length,
  },
  {
    name: 'wire-angle',
    severity: 'error',
    protects: 'That wires leave the die straight enough for the machine and for the neighbouring wires.',
    mend: 'Let the slack go `toward-fingers`, or choose other fingers.',
    look: angle,
  },
  {
    name: 'wire-current',
    severity: 'error',
    protects: 'That no wire carries more than MIL-PRF-38535, A.3.5.5.3, allows.',
    mend: 'Give the pin more wires or pads, a thicker wire, or a shorter way.',
    look: current,
  },
];
