/** What one micrometre more of a limit or a size costs in die side, everything else as it is. */
import type { Die } from '../fit/die.ts';
import { fitSides } from '../fit/fit.ts';
import { PER_MICROMETRE, type Units, units } from '../geometry/units.ts';
import type { Plan, PlannedCell } from '../plan/plan.ts';
import type { PadKind, Ring } from '../spec/ring.ts';
import { bySide } from './alternatives.ts';
import type { Measured } from './measure.ts';

const WHAT = ['pitch', 'pad width', 'stem width', 'edge'] as const;
export type What = (typeof WHAT)[number];

/** Micrometres of die width and height for one micrometre; null where the ring could then not be laid, and why not. */
export interface Cost {
  readonly what: What;
  readonly width: number | null;
  readonly height: number | null;
  readonly against: readonly string[];
}

const more = (length: Units): Units => units(length + PER_MICROMETRE);

function changed(plan: Plan, what: What): Plan {
  const { ring } = plan;
  const with_ = (change: Partial<Ring>): Plan => ({ ...plan, ring: { ...ring, ...change } });
  switch (what) {
    case 'pitch':
      return with_({ pads: { ...ring.pads, pitch: more(ring.pads.pitch) } });
    case 'stem width':
      return with_({ stems: { ...ring.stems, width: more(ring.stems.width) } });
    case 'edge':
      return with_({ edge: { ...ring.edge, clearance: more(ring.edge.clearance) } });
    case 'pad width':
      return { ...plan, sides: bySide((side) => plan.sides[side].map(widened())) };
  }
}

/** Cells with bond pads one micrometre wider along the side, the openings as they are. */
function widened(): (cell: PlannedCell) => PlannedCell {
  const kinds = new Map<PadKind, PadKind>();
  return (cell) => {
    const { entry } = cell;
    if (entry === null || entry.pad === null) return cell;
    const pad = kinds.get(entry.pad) ?? { ...entry.pad, along: more(entry.pad.along) };
    kinds.set(entry.pad, pad);
    return { ...cell, entry: { ...entry, pad } };
  };
}

/** What each micrometre costs a measured ring whose least die is known. Cells stay on their sides. */
export function costsOf(measured: Measured, die: Die): readonly Cost[] {
  const stems = Object.values(measured.rows).some((rows) => rows.pads.some((pad) => pad.stem !== null));
  return WHAT.map((what) => {
    if (what === 'stem width' && !stems) return { what, width: 0, height: 0, against: [] };
    const grown = fitSides(changed(measured.plan, what));
    if (!grown.ok) return { what, width: null, height: null, against: grown.problems.map((p) => p.message) };
    return {
      what,
      width: (grown.value.die.width - die.width) / PER_MICROMETRE,
      height: (grown.value.die.height - die.height) / PER_MICROMETRE,
      against: [],
    };
  });
}
