/** What wires are to each other and to bond pads not their own. */
import { segmentsOf } from '../near.ts';
import { meetingPoint } from '../segments.ts';
import { at, called, type Look, type Looking, um, type WireHit } from './say.ts';

/** Crossings of which the loop heights say the one thing or the other. */
const crossings =
  (apart: boolean): Look =>
  (of) => {
    const segments = segmentsOf(of.wires);
    return of.relations.crossings.flatMap(([i, j]): WireHit[] => {
      const [a, b, first, second] = [of.wires[i], of.wires[j], segments[i], segments[j]];
      if (a === undefined || b === undefined || first === undefined || second === undefined) return [];
      const difference = Math.abs(a.loop - b.loop);
      if (difference >= of.bonded.limits.height !== apart) return [];
      const point = meetingPoint(first, second);
      return [
        {
          message: apart
            ? `${called(a)} and ${called(b)} cross in plan, with ${um(difference, of.bonded.limits.height)} between their loops`
            : `${called(a)} and ${called(b)} cross`,
          items: [a.pin, b.pin],
          at: at(of, point.x / 1e6, point.y / 1e6),
        },
      ];
    });
  };

const crowded: Look = ({ relations, placement }) =>
  relations.crowded
    ? [
        {
          message: 'so many wires cross or lie on one spot that not all pairs of them were looked at',
          items: [placement.ring],
        },
      ]
    : [];

const spacing: Look = (of) =>
  of.relations.close.flatMap(({ pair: [i, j], gap }): WireHit[] => {
    const [a, b] = [of.wires[i], of.wires[j]];
    if (a === undefined || b === undefined) return [];
    const limit = of.bonded.limits.wireSpacing;
    const near =
      gap < 0
        ? 'touch in plan'
        : `come within ${um(gap, limit)} of each other in plan; ${limit} um are asked for`;
    return [
      {
        message: `${called(a)} and ${called(b)} ${near}, at like heights`,
        items: [a.pin, b.pin],
        at: at(of, (a.from.x + b.from.x) / 2, (a.from.y + b.from.y) / 2),
      },
    ];
  });

const nearPad: Look = (of) =>
  of.relations.closePads.flatMap(({ wire: i, pad: k, gap }): WireHit[] => {
    const [wire, pad] = [of.wires[i], of.placement.bondPads[k]];
    if (wire === undefined || pad === undefined) return [];
    const limit = of.bonded.limits.padSpacing;
    const near =
      gap < 0
        ? `passes over the bond pad of "${pad.pin}"`
        : `comes within ${um(gap, limit)} of the bond pad of "${pad.pin}" in plan; ${limit} um are asked for`;
    return [
      {
        message: `${called(wire)} ${near}, and not above that pad's own wires`,
        items: [wire.pin, pad.pin],
        at: { x: Math.round(pad.x * 1e6), y: Math.round(pad.y * 1e6) },
      },
    ];
  });

export const PAIR_RULES: readonly Looking[] = [
  {
    name: 'wires-cross',
    severity: 'error',
    protects: 'That no two wires of like loop heights cross, and short in the moulding if not before.',
    mend: 'Exchange the two pins, on the die or at the fingers; `ringwright bond --suggest-order` looks for swaps.',
    look: crossings(false),
  },
  {
    name: 'wires-cross-above',
    severity: 'warning',
    protects: 'That a wire which crosses above another does so knowingly: it sinks toward its finger.',
    mend: 'Exchange the two pins, or ask the assembly house.',
    look: crossings(true),
  },
  {
    name: 'wires-not-compared',
    severity: 'error',
    protects: 'That nobody takes a list of crossings for complete which is not.',
    mend: 'Mend the crossings that are listed first.',
    look: crowded,
  },
  {
    name: 'wire-spacing',
    severity: 'error',
    protects: 'That wires of like loop heights keep clear of each other when the moulding sweeps them.',
    mend: 'Move the pads apart, choose other fingers, or give the rows different loop heights.',
    look: spacing,
  },
  {
    name: 'wire-near-pad',
    severity: 'error',
    protects: 'That a wire touches no bond pad but its own, nor the wires that rise from it.',
    mend: 'Give the inner row a higher loop, or move the pads apart.',
    look: nearPad,
  },
];
