/** Lengths that could be meant in another unit: told as warnings, never refused. */
import { micrometres, type Units, units } from '../geometry/units.ts';
import type { Path, Source } from '../source/source.ts';
import type { Report } from './report.ts';
import type { KnownText } from './schema.ts';

/** What such lengths are on the chips that are bonded with wires, generously (common practice, no source). */
const RANGES = {
  die: [100, 50_000],
  pitch: [5, 2_000],
  pad: [5, 1_000],
  grid: [0.0005, 1],
  edge: [0, 2_000],
  wire: [8, 600],
  package: [200, 100_000],
} as const;

export function suspect(report: Report, source: Source, text: KnownText): void {
  const look = (path: Path, length: Units | undefined, kind: keyof typeof RANGES, what: string): void => {
    if (length === undefined || length === 0) return;
    const um = micrometres(length);
    const [least, most] = RANGES[kind];
    if (um >= least && um <= most) return;
    const other = um < least ? 'millimetres' : 'nanometres';
    const meant = um < least ? micrometres(units(length * 1000)) : um / 1000;
    report.note(
      source.placeOf(path),
      'doubtful-length',
      `${what} of ${um} micrometres is unusually ${um < least ? 'small' : 'large'}`,
      `lengths are in micrometres; if ${um} was meant in ${other}, write ${meant}`,
    );
  };
  look(['grid'], text.grid, 'grid', 'a grid');
  if (typeof text.die === 'object') {
    look(['die', 'width'], text.die.width, 'die', 'a die width');
    look(['die', 'height'], text.die.height, 'die', 'a die height');
  }
  look(['core', 'width'], text.core?.width, 'die', 'a core width');
  look(['core', 'height'], text.core?.height, 'die', 'a core height');
  for (const key of ['street', 'seal', 'clearance'] as const)
    look(['edge', key], text.edge?.[key], 'edge', `an edge ${key}`);
  look(['package', 'wires', 'diameter'], text.package?.wires.diameter, 'wire', 'a wire diameter');
  const fingers = text.package?.fingers;
  if (typeof fingers === 'object' && 'distance' in fingers)
    look(['package', 'fingers', 'distance'], fingers.distance, 'package', 'a distance of fingers');
  look(['bondPads', 'pitch'], text.bondPads?.pitch, 'pitch', 'a pitch');
  look(['bondPads', 'spacing'], text.bondPads?.spacing, 'edge', 'a spacing');
  for (const [name, kind] of Object.entries(text.bondPads?.kinds ?? {}))
    for (const key of ['along', 'deep'] as const)
      look(['bondPads', 'kinds', name, key], kind[key], 'pad', 'a bond pad');
}
