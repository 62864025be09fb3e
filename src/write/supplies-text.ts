/** The supplies of a placement for a terminal: the table of counts, then every figure with its working. */
import type { ElectricalSummary, Placement } from '../format/placement.ts';
import { clean } from './text.ts';

type Assessed = Exclude<ElectricalSummary, { readonly notAssessed: string }>;
type Figure = Assessed['figures'][number]['figure'];
type Count = Assessed['supplies'][number];

const amount = (value: number): string =>
  Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(4)));
const withUnit = (value: number, unit: string): string =>
  unit === '' ? amount(value) : `${amount(value)} ${unit}`;

const DECIDES: Readonly<Record<NonNullable<Count['decides']>, string>> = {
  current: 'direct current',
  wire: 'wire current',
  noise: 'switching noise',
  discharge: 'discharge',
};

/** The demands in the order of the table's columns. */
const COLUMNS = [
  ['current', 'current'],
  ['wire', 'wire'],
  ['noiseApart', 'noise L/N'],
  ['noise', 'noise'],
  ['discharge', 'discharge'],
] as const;

/** Rows in columns as wide as their longest text; those of numbers to the right. */
function columns(
  rows: readonly (readonly string[])[],
  right: (column: number) => boolean,
): readonly string[] {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => row[i]?.length ?? 0)));
  return rows.map((row) =>
    row
      .map((text, i) => (right(i) ? text.padStart(widths[i] ?? 0) : text.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd(),
  );
}

const short = (f: Figure): string => ('value' in f ? amount(f.value) : '-');

function countTable(supplies: readonly Count[]): readonly string[] {
  const head = ['net', 'on', 'have', 'needed', 'decided by', ...COLUMNS.map(([, title]) => title)];
  const rows = supplies.map((count) => [
    `${count.net}${count.net === count.lane ? '' : ` on ${count.lane}`}`,
    count.sections.join(', '),
    String(count.have),
    'value' in count.needed ? amount(count.needed.value) : 'not assessed',
    count.decides === null ? '' : DECIDES[count.decides],
    ...COLUMNS.map(([key]) => short(count.demands[key])),
  ]);
  return columns([head, ...rows], (i) => i === 2 || i === 3 || i >= 5);
}

/** A figure's working below its head: how it follows, from what, and by which source. */
function working(f: Figure): readonly string[] {
  if (!('value' in f)) return [];
  const inputs = f.inputs.map(({ name, value, unit }) => `${name} = ${withUnit(value, unit)}`).join(', ');
  return [`    ${f.formula}${inputs === '' ? '' : `: ${inputs}`}`, `    source: ${f.source}`];
}

/** How near to a limit, in the words of the program's one rule: a ratio within 1e-9 of 1 holds. */
const holds = (value: number, limit: number): boolean => value <= limit * (1 + 1e-9);

function figureLines(what: string, of: string, f: Figure, limit: Figure | null): readonly string[] {
  const head = `${what}, ${of}`;
  if (!('value' in f)) return [`${head}: not assessed, for lack of ${f.notAssessed}`];
  const verdict =
    limit === null
      ? ''
      : 'value' in limit
        ? `, limit ${withUnit(limit.value, limit.unit)}: ${holds(f.value, limit.value) ? 'holds' : 'BROKEN'}`
        : `, held to nothing, for lack of ${limit.notAssessed}`;
  return [`${head}: ${withUnit(f.value, f.unit)}${verdict}`, ...working(f)];
}

const told = (lines: readonly string[]): string => lines.map((line) => `${clean(line)}\n`).join('');

/** The whole text, each line ending with a line feed. */
export function suppliesText(placement: Placement): string {
  const { electrical } = placement.summary;
  const lines: string[] = [`${placement.ring}: supplies`, ''];
  if (electrical === undefined || 'notAssessed' in electrical) {
    lines.push(`not assessed, for lack of ${electrical?.notAssessed ?? 'an assessment'}`);
    return told(lines);
  }
  lines.push(...countTable(electrical.supplies), '', 'Counts');
  for (const { net, lane, sections, demands } of electrical.supplies)
    for (const [key, title] of COLUMNS)
      lines.push(
        ...figureLines(
          `cells for ${title}`,
          `${net === lane ? net : `${net} on ${lane}`} (${sections.join(', ')})`,
          demands[key],
          null,
        ),
      );
  lines.push('', 'Figures');
  for (const { what, of, figure, limit } of electrical.figures)
    lines.push(...figureLines(what, of, figure, limit));
  return told(lines);
}
