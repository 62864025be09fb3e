/** How close bond pads may come: to each other, to the die corner, to cells that allow none on top. */
import type { Hit, Rule } from '../finding.ts';
import type { Limits } from '../limits.ts';
import { closerThan } from '../near.ts';
import { once } from '../once.ts';
import { hitAt, hitBetween, um } from '../say.ts';
import { lengthOf, sideName } from '../turn.ts';
import type { PadView, View } from '../view.ts';
import { eachPad } from './each.ts';

/** The bond pads of each row of each side, in order along it. */
const padRows = once((view): readonly (readonly PadView[])[] =>
  view.sidePads.flatMap((pads) => {
    const [single, outer, inner]: [PadView[], PadView[], PadView[]] = [[], [], []];
    for (const p of pads) (p.pad.row === 'single' ? single : p.pad.row === 'outer' ? outer : inner).push(p);
    return [single, outer, inner];
  }),
);

/** Visits the bond pads that follow each other in a row, and how many of it lie between them and the nearer corner. */
function eachNeighbours(view: View, visit: (a: PadView, b: PadView, beyond: number) => void): void {
  for (const row of padRows(view))
    for (let i = 1; i < row.length; i++) {
      const a = row[i - 1];
      const b = row[i];
      if (a !== undefined && b !== undefined) visit(a, b, Math.min(i - 1, row.length - 1 - i));
    }
}

function pitch(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  eachNeighbours(view, (a, b) => {
    const between = b.s - a.s;
    if (between < view.limits.pitch)
      hits.push(
        hitBetween(
          a,
          b,
          `bond pads "${a.pad.pin}" and "${b.pad.pin}" of one row are ${um(between)} apart, centre to centre; the least pitch is ${um(view.limits.pitch)}`,
          a.pad.pin,
          b.pad.pin,
        ),
      );
  });
  return hits;
}

/** The widest step that a pad so many from the corner still belongs to. */
const stepAt = (limits: Limits, fromCorner: number): number =>
  limits.cornerPitches.reduce(
    (most, step) => (fromCorner < step.pads ? Math.max(most, step.pitch) : most),
    0,
  );

function cornerPitch(view: View): readonly Hit[] {
  if (view.limits.cornerPitches.length === 0) return [];
  const hits: Hit[] = [];
  eachNeighbours(view, (a, b, beyond) => {
    const asked = stepAt(view.limits, beyond);
    if (b.s - a.s >= asked) return;
    hits.push(
      hitBetween(
        a,
        b,
        `bond pads "${a.pad.pin}" and "${b.pad.pin}" near a corner are ${um(b.s - a.s)} apart, centre to centre; ${um(asked)} are asked for there`,
        a.pad.pin,
        b.pad.pin,
      ),
    );
  });
  return hits;
}

const metal = (view: View): readonly Hit[] =>
  view.close.pads
    .filter(([a, b]) => closerThan(a, b, view.limits.spacing))
    .map(([a, b]) =>
      hitBetween(
        a,
        b,
        `the metal of bond pads "${a.pad.pin}" and "${b.pad.pin}" is closer than ${um(view.limits.spacing)} both in x and in y`,
        a.pad.pin,
        b.pad.pin,
      ),
    );

const openings = (view: View): readonly Hit[] =>
  view.close.pads
    .filter(([a, b]) => closerThan(a.opening, b.opening, view.limits.openingSpacing))
    .map(([a, b]) =>
      hitBetween(
        a,
        b,
        `the openings of "${a.pad.pin}" and "${b.pad.pin}" are closer than ${um(view.limits.openingSpacing)} both in x and in y`,
        a.pad.pin,
        b.pad.pin,
      ),
    );

const cornerClearance = eachPad((p, { limits, die }) => {
  const clear = Math.min(p.s, lengthOf(p.side, die) - p.s);
  if (clear >= limits.cornerClearance) return undefined;
  return hitAt(
    p,
    `the bond pad of "${p.pad.pin}" is ${um(clear)} along the ${sideName(p.side)} side from the die corner; at least ${um(limits.cornerClearance)} are asked for`,
    p.pad.pin,
  );
});

const onTop = (view: View): readonly Hit[] =>
  view.close.padsOnCells.map(([p, c]) =>
    hitBetween(
      p,
      c,
      `the bond pad of "${p.pad.pin}" lies over cell "${c.name}", and ${c.cell.footprint} allows no pad on top`,
      p.pad.pin,
      c.name,
    ),
  );

export const DISTANCE_RULES: readonly Rule[] = [
  {
    name: 'pad-pitch',
    severity: 'error',
    protects: 'That the assembly house can set wire beside wire along a row.',
    mend: 'Move the cells apart, or put one of the two into the other row.',
    run: pitch,
  },
  {
    name: 'corner-pitch',
    severity: 'error',
    protects: 'That wires can fan out near the die corners, where the first pads keep a wider pitch.',
    mend: 'Move the pads near the corner apart.',
    run: cornerPitch,
  },
  {
    name: 'pad-spacing',
    severity: 'error',
    protects:
      'That the metal of two bond pads keeps its least distance, in a row, across rows and at a corner.',
    mend: 'Move the cells apart, or narrow the pads.',
    run: metal,
  },
  {
    name: 'opening-spacing',
    severity: 'error',
    protects: 'That two openings keep their least distance.',
    mend: 'Move the cells apart, or reduce the openings.',
    run: openings,
  },
  {
    name: 'corner-clearance',
    severity: 'error',
    protects: 'That no bond pad comes too near the die corner, where wires and stress are worst.',
    mend: 'Move the pad away from the corner.',
    run: cornerClearance,
  },
  {
    name: 'pad-on-cell',
    severity: 'error',
    protects: 'That bonding presses on no circuit which the library has not made for it.',
    mend: 'Move the cells, or fill with cells that allow a pad on top.',
    run: onTop,
  },
];
