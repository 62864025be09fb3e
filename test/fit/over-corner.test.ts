/**
 * Shows: bond pads over circuit lie over a corner cell only where that is as deep as they reach. Source: ring-model
 * section 3 (the rows lie within the depth of what carries them); the checker, by the shapes alone; places worked by hand.
 */
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement } from '../../src/format/placement.ts';
import { lay } from '../../src/run.ts';
import { entry, footprint, library, ring, um } from '../helpers/ring.ts';

/** Two rows over cells 35 wide and 180 deep; the corner cell is 180 along the side that it begins, `deep` the other way. */
function laid(deep: number): Placement {
  const cells = [
    ...library(35).filter((f) => f.role !== 'corner'),
    {
      ...footprint('corner', 'corner', 180, { padOnTop: true }),
      width: um(deep),
      drawn: { width: um(deep), height: um(180) },
    },
  ];
  const io = cells.find((f) => f.name === 'io');
  if (io === undefined) throw new Error('an empty library');
  const supplies = cells.filter((f) => f.role === 'supply');
  const pads = (side: string) =>
    Array.from({ length: 12 }, (_, i) => entry((side === 'l' ? supplies[i] : null) ?? io, `${side}${i}`));
  const outcome = lay(
    ring(
      cells,
      'over-circuit',
      { left: pads('l'), bottom: pads('b'), right: pads('r'), top: pads('t') },
      { rows: { overCircuit: 2, gap: um(12), first: 'outer', inset: um(0) } },
    ),
  );
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('; '));
  return outcome.value;
}

/** How far before the die corner the last cell of the bottom side ends. */
const lastEnd = ({ cells, die }: Placement): number =>
  die.width -
  Math.max(...cells.filter((c) => c.side === 'bottom' && c.role === 'signal').map((c) => c.x + c.width));

describe('a row of pads 152 deep', () => {
  it('overhangs a corner cell of 180 and stays beside one of 140', () => {
    const [whole, shallow] = [laid(180), laid(140)];
    // The pad of the last cell, in its middle, is 60 wide and overhangs it by 12.5.
    expect(lastEnd(whole)).toBe(60 + 180);
    expect(lastEnd(shallow)).toBe(60 + 180 + 12.5);
    for (const placement of [whole, shallow])
      expect(judge(placement).filter((f) => f.severity === 'error')).toEqual([]);
    const cut = whole.cells.map((c) => (c.role === 'corner' && c.y === 60 ? { ...c, height: 140 } : c));
    const found = judge({ ...whole, cells: cut }).filter((f) => f.rule === 'pad-depth');
    expect(found.map((f) => f.message)).toEqual([
      expect.stringMatching(/^the bond pad of "b11" reaches 12 um beyond the depth of cell/),
    ]);
  });
});
