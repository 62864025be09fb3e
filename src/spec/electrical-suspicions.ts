/** Figures that could be meant in another unit, a factor of a thousand off: told as warnings, never refused. */
import { micrometres } from '../geometry/units.ts';
import type { Path } from '../source/source.ts';
import type { ElectricalContext } from './electrical-context.ts';
import type { ElectricalText } from './electrical-schema.ts';

interface Range {
  readonly least: number;
  readonly most: number;
  readonly unit: string;
  /** The unit that a figure too small, or too large, was probably meant in. */
  readonly smaller: string;
  readonly larger: string;
}

/** What such figures are on chips that are bonded with wires, generously (common practice, no source). */
const RANGES = {
  core: { least: 0.5, most: 20_000, unit: 'mA', smaller: 'A', larger: 'uA' },
  current: { least: 0.001, most: 500, unit: 'mA', smaller: 'A', larger: 'uA' },
  slope: { least: 0.05, most: 2_000, unit: 'mA/ns', smaller: 'A/ns', larger: 'uA/ns' },
  load: { least: 0.5, most: 1_000, unit: 'pF', smaller: 'nF', larger: 'fF' },
  swing: { least: 0.1, most: 50, unit: 'V', smaller: 'kV', larger: 'mV' },
  edge: { least: 0.02, most: 500, unit: 'ns', smaller: 'us', larger: 'ps' },
  noise: { least: 0.005, most: 3, unit: 'V', smaller: 'kV', larger: 'mV' },
  drop: { least: 0.0005, most: 1, unit: 'V', smaller: 'kV', larger: 'mV' },
  level: { least: 50, most: 30_000, unit: 'V', smaller: 'kV', larger: 'mV' },
  discharge: { least: 0.1, most: 100, unit: 'V', smaller: 'kV', larger: 'mV' },
  decoupling: { least: 0.001, most: 3, unit: 'V', smaller: 'kV', larger: 'mV' },
  diameter: { least: 10, most: 500, unit: 'um', smaller: 'mm', larger: 'nm' },
  length: { least: 200, most: 20_000, unit: 'um', smaller: 'mm', larger: 'nm' },
  lead: { least: 0.01, most: 50, unit: 'nH', smaller: 'uH', larger: 'pH' },
  rating: { least: 0.5, most: 2_000, unit: 'mA', smaller: 'A', larger: 'uA' },
} as const satisfies Readonly<Record<string, Range>>;

export function suspectFigures({ report, source, entries }: ElectricalContext, text: ElectricalText): void {
  const look = (path: Path, value: number | undefined, kind: keyof typeof RANGES): void => {
    const range: Range = RANGES[kind];
    if (value === undefined || value === 0 || (value >= range.least && value <= range.most)) return;
    const small = value < range.least;
    const meant = Number((small ? value * 1000 : value / 1000).toPrecision(12));
    report.note(
      source.placeOf(['electrical', ...path]),
      'doubtful-figure',
      `${path.join('.')} of ${value} ${range.unit} is unusually ${small ? 'small' : 'large'}`,
      `it is read in ${range.unit}; if ${value} was meant in ${small ? range.smaller : range.larger}, write ${meant}`,
    );
  };
  const lookAll = (key: 'noise' | 'drop' | 'core', kind: keyof typeof RANGES): void => {
    const given = text[key];
    if (typeof given === 'number') look([key], given, kind);
    else for (const [name, value] of Object.entries(given ?? {})) look([key, name], value, kind);
  };
  lookAll('core', 'core');
  lookAll('noise', 'noise');
  lookAll('drop', 'drop');
  for (const [name, output] of Object.entries(text.outputs ?? {}))
    for (const key of ['current', 'slope', 'load', 'swing', 'edge'] as const)
      look(['outputs', name, key], output[key], key);
  look(['discharge', 'level'], text.discharge?.level, 'level');
  look(['discharge', 'rail'], text.discharge?.rail, 'discharge');
  look(['discharge', 'path'], text.discharge?.path, 'discharge');
  look(['decoupling', 'chip'], text.decoupling?.chip, 'decoupling');
  look(['decoupling', 'package'], text.decoupling?.package, 'decoupling');
  const { wires } = text;
  if (wires !== undefined) {
    look(['wires', 'diameter'], micrometres(wires.diameter), 'diameter');
    look(['wires', 'length'], micrometres(wires.length), 'length');
    look(['wires', 'lead'], wires.lead, 'lead');
  }
  const rated = new Set(entries.map((entry) => entry.footprint));
  for (const { name, rating } of rated) {
    const { least, most } = RANGES.rating;
    if (rating === undefined || (rating >= least && rating <= most)) continue;
    const small = rating < least;
    report.note(
      source.placeOf(['cells']),
      'doubtful-figure',
      `the rating of cell ${name}, ${rating} mA, is unusually ${small ? 'small' : 'large'}`,
      `it is read in mA; if ${rating} was meant in ${small ? 'A' : 'uA'}, write ${Number((small ? rating * 1000 : rating / 1000).toPrecision(12))} in the cell file`,
    );
  }
}
