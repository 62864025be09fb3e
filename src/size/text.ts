/** Sizes as tables for a terminal. */
import { SIDES } from '../geometry/side.ts';
import { problemText } from '../problems/problem.ts';
import { setsNoPitch } from './binding.ts';
import type { BindingText, Given, Sized, Sizes } from './sizes.ts';

/** Rows of cells in columns as wide as their widest; all but the first column stand to the right. */
function table(rows: readonly (readonly string[])[]): string {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, i) =>
    Math.max(...rows.map((row) => row[i]?.length ?? 0)),
  );
  return rows
    .map((row) =>
      row
        .map((cell, i) => (i === 0 ? cell.padEnd(widths[i] ?? 0) : cell.padStart(widths[i] ?? 0)))
        .join('  ')
        .trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join('');
}

/** A number with at most so many decimals, none that say nothing. */
const short = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));
const um = (value: number): string => short(value, 3);
const whole = (value: number | null): string => (value === null ? '-' : String(value));

const coreText = ({ width, height }: Sizes['core']): string =>
  width === 0 && height === 0 ? 'no core asked for' : `core ${um(width)} x ${um(height)} um`;

/** The tables that `ringwright size` prints. */
export function sizesText(sizes: Sizes): string {
  const { pads, core } = sizes;
  const sides =
    sizes.sides === 'cut' ? 'the order is cut into sides anew for each style' : 'pins bound to sides';
  return [
    `${sizes.ring}: ${pads} pads, ${coreText(core)}, ${sides}\n`,
    dieTable(sizes),
    sideTable(sizes),
    `What binds\n${sizes.styles
      .filter((style) => style.described || !style.mixed)
      .map(bindingLines)
      .join('')}`,
    costTable(sizes),
    ...(sizes.given === null ? [] : [givenText(sizes, sizes.given)]),
    ...(sizes.refused.length === 0 ? [] : [refusedText(sizes)]),
    notes(sizes),
  ].join('\n');
}

const nameOf = ({ name, described }: Sized): string => `${described ? '* ' : '  '}${name}`;

function dieTable({ styles, wafers, shrink }: Sizes): string {
  const rows = styles.map((style) => [
    nameOf(style),
    `${um(style.die.width)} x ${um(style.die.height)}`,
    `${limit(style.limits.width)}, ${limit(style.limits.height)}`,
    short(style.area.die, 3),
    `${short(100 * style.ringShare, 0)} %`,
    ...style.dies.map(({ whole: dies, estimate }) => `${dies} (${short(estimate, 0)})`),
  ]);
  const drawn = shrink === 1 ? 'die, um' : 'die, um drawn';
  const heads = [
    '  style',
    drawn,
    'width, height set by',
    'mm2',
    "ring's part",
    ...wafers.diameters.map((d, i) => `${i === 0 ? 'dies on ' : ''}${d} mm`),
  ];
  return table([heads, ...rows]);
}

const limit = ({ by, side }: Sized['limits']['width']): string => side ?? by;

function sideTable({ styles, usual, pair }: Sizes): string {
  const rows = styles.map((style) => [
    nameOf(style),
    ...style.sides.map(
      ({ pads, slack, more, pairs }) => `${pads} | ${um(slack)} | ${whole(more)} | ${whole(pairs)}`,
    ),
  ]);
  return `By side: pads | slack in um | ${furtherText(usual, pair)}\n${table([['  style', ...SIDES], ...rows])}`;
}

/** What else a side has room for. */
const furtherText = (usual: string | null, pair: Sizes['pair']): string =>
  `room for further ${usual ?? 'pads'} | or for further pairs${pair === null ? '' : ` of ${listed(pair)}`}`;

function bindingLines(style: Sized): string {
  if (style.bindings.length === 0) return `${nameOf(style)}: nothing, no side has two cells\n`;
  return style.bindings.map((binding) => `${nameOf(style)}: ${bindingText(binding)}\n`).join('');
}

/** `on every side the stem between inner pads sets the pitch of 40 (39 times); without it 35`. */
export function bindingText({ sides, rule, counts, pitch, without }: BindingText): string {
  const where =
    sides.length === 4 ? 'on every side' : `on the ${listed(sides)} side${sides.length > 1 ? 's' : ''}`;
  const sets =
    pitch === null || setsNoPitch(rule)
      ? `the ${rule} decides`
      : `the ${rule} sets the pitch of ${um(pitch)} (${times(counts)})`;
  if (without === null) return `${where} ${sets}`;
  const then = without.rule === null ? '' : ` (${without.rule})`;
  const free =
    without.pitch === null ? 'nothing' : `${um(without.pitch)}${without.pitch === pitch ? ' too' : ''}`;
  return `${where} ${sets}; without it ${free}${then}`;
}

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** `once`, or `27 to 29 times`. */
function times(counts: readonly number[]): string {
  const [least, most] = [Math.min(...counts), Math.max(...counts)];
  if (most === 1) return 'once';
  return `${least === most ? most : `${least} to ${most}`} times`;
}

function costTable({ styles }: Sizes): string {
  const heads = styles[0]?.costs.map((cost) => cost.what) ?? [];
  const rows = styles.map((style) => [
    nameOf(style),
    ...style.costs.map(({ width, height }) =>
      width === null || height === null ? 'impossible' : `${um(width)}, ${um(height)}`,
    ),
  ]);
  const against = styles.flatMap((style) =>
    style.costs.flatMap((cost) =>
      cost.against.length === 0 ? [] : `  ${style.name} with 1 um more ${cost.what}: ${few(cost.against)}\n`,
    ),
  );
  return `What one um more costs, um of width and height\n${table([['  style', ...heads], ...rows])}${against.join('')}`;
}

/** The first of some reasons, and how many more there are. */
const few = ([first = '', ...more]: readonly string[]): string =>
  more.length === 0 ? first : `${first}; and ${more.length} more like that`;

function givenText({ usual, pair }: Sizes, { width, height, styles }: Given): string {
  const rows = styles.flatMap((style) => {
    const fits = style.problems.length === 0;
    const sides = style.sides.map(({ holds, more, pairs }) =>
      fits ? `${whole(holds)} | ${whole(more)} | ${whole(pairs)}` : `${whole(holds)} | - | -`,
    );
    return [[`  ${style.name}`, ...sides]];
  });
  const misfits = styles.flatMap(({ name, problems }) =>
    problems.map((problem) => `  ${name}: ${problem.message}\n`),
  );
  const what = `most ${usual ?? 'pads'} that a side holds | ${furtherText(usual, pair)}`;
  return `On a die of ${um(width)} x ${um(height)} um: ${what}\n${table([['  style', ...SIDES], ...rows])}${misfits.join('')}`;
}

const refusedText = ({ refused }: Sizes): string =>
  `Not sized\n${refused.map(({ name, reasons }) => `  ${name}: ${reasons.join('; ')}\n`).join('')}`;

function notes({ wafers, styles, suppliesToCome }: Sizes): string {
  const open = styles.flatMap((style) => style.notes.map((note) => `${style.name}: ${problemText(note)}\n`));
  return (
    `* as described. Dies: whole ones at the grid's best offset, ${short(wafers.exclusion, 3)} mm of the wafer's edge left out,\n` +
    'street included; in brackets the estimate of Hennessy and Patterson, which leaves nothing out.\n' +
    (suppliesToCome
      ? 'Supply cells that are set by themselves when the ring is laid are not counted.\n'
      : '') +
    open.join('')
  );
}
