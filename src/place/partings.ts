/** Where break cells part sections, and which lanes each cuts. */
import type { Fit } from '../fit/fit.ts';
import type { Placement } from '../format/placement.ts';
import type { Placed, PlacedSide } from './cells.ts';

export function partingsOf(fit: Fit, sides: readonly PlacedSide[]): Placement['partings'] {
  const isBreak = ({ footprint }: Placed): boolean => footprint.role === 'break';
  if (!sides.some((side) => side.cells.some(isBreak))) return [];
  const cells = sides.flatMap((side) => [...side.cells, side.corner]);
  const sections = new Map(fit.plan.ring.sections.map((section) => [section.name, section]));
  const neighbour = (from: number, step: 1 | -1): string => {
    for (let k = 1; k <= cells.length; k++) {
      const section = cells[(from + step * k + k * cells.length) % cells.length]?.cell.section;
      if (section !== undefined && section !== null) return section;
    }
    return '';
  };
  const partings: Placement['partings'][number][] = [];
  cells.forEach((placed, i) => {
    if (!isBreak(placed)) return;
    const { cell, footprint } = placed;
    const between = [neighbour(i, -1), neighbour(i, 1)] as const;
    const lanes = new Set(between.flatMap((name) => [...(sections.get(name)?.lanes.keys() ?? [])]));
    const through = new Set(
      footprint.lanes.filter((l) => l.strips.some((s) => s.carry === 'through')).map((l) => l.lane),
    );
    partings.push({ cell: cell.name, lanes: [...lanes].filter((lane) => !through.has(lane)), between });
  });
  return partings;
}
