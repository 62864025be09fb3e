/** What the assembly house asks of bond pads, as the ring's distances. */
import { micrometres, type Units } from '../geometry/units.ts';
import type { Source } from '../source/source.ts';
import { DEFAULTS } from './defaults.ts';
import { drawnLeast, drawnMost, exact } from './lengths.ts';
import type { Report } from './report.ts';
import type { Ring } from './ring.ts';
import type { RingText } from './schema.ts';

/** The distances as they are drawn, where silicon is drawn times `shrink`; two that contradict each other are reported. */
export function padRules(
  report: Report,
  source: Source,
  bondPads: RingText['bondPads'],
  toCell: Units,
  shrink: number,
): Ring['pads'] {
  const defaults = DEFAULTS.bondPads;
  const least = (limit: Units | undefined, fallback: number): Units =>
    drawnLeast(limit ?? exact(fallback), shrink);
  const { most } = bondPads.openingToSeal ?? {};
  const pads = {
    pitch: drawnLeast(bondPads.pitch, shrink),
    spacing: drawnLeast(bondPads.spacing, shrink),
    openingSpacing: least(bondPads.openingSpacing, defaults.openingSpacing),
    openingInset: least(bondPads.openingInset, defaults.openingInset),
    openingToSeal: {
      least: least(bondPads.openingToSeal?.least, defaults.openingToSeal.least),
      most: most === undefined ? defaults.openingToSeal.most : drawnMost(most, shrink),
    },
    toCell,
  };
  checkToSeal(report, source, pads);
  return pads;
}

function checkToSeal(report: Report, source: Source, { openingToSeal: { least, most } }: Ring['pads']): void {
  if (most !== null && least > most)
    report.error(
      source.placeOf(['bondPads', 'openingToSeal', 'most']),
      'out-of-range',
      `openings may be at most ${micrometres(most)} from the seal ring, and must be at least ${micrometres(least)}`,
      'raise the one or lower the other; lengths are in micrometres',
    );
}
