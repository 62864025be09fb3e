/** Sizes as tables for a terminal. */
import { SIDES } from '../geometry/side.ts';
import { problemText } from '../problems/problem.ts';
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

/** The tables that `ringwright size` prints. */
export function sizesText(sizes: Sizes): string {
  const { pads, core } = sizes;
  const sides =
    sizes.sides === 'cut' ? 'the order is cut into sides anew for each style' : 'pins bound to sides';
  return [
    `${sizes.ring}: ${pads} pads, core ${um(core.width)} x ${um(core.height)} um, ${sides}\n`,
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
    'width, height by',
    'mm2',
    'ring',
    ...wafers.diameters.map((d) => `${d} mm`),
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
  const what = `pads, slack in um, further ${usual ?? 'pads'}, further pairs${pair === null ? '' : ` of ${pair.join(' and ')}`}`;
  return `By side: ${what}\n${table([['  style', ...SIDES], ...rows])}`;
}

function bindingLines(style: Sized): string {
  if (style.bindings.length === 0) return `${nameOf(style)}: nothing, there are no cells\n`;
  return style.bindings.map((binding) => `${nameOf(style)}: ${bindingText(binding)}\n`).join('');
}

/** `on every side the stem between inner pads sets the pitch of 40 (39 times); without it 35`. */
export function bindingText({ sides, rule, counts, pitch, without }: BindingText): string {
  const where =
    sides.length === 4 ? 'on every side' : `on the ${sides.join(' and ')} side${sides.length > 1 ? 's' : ''}`;
  const times = counts.every((count) => count === 1) ? 'once' : `${[...new Set(counts)].join(', ')} times`;
  const sets =
    pitch === null ? `the ${rule} decides` : `the ${rule} sets the pitch of ${um(pitch)} (${times})`;
  if (without === null) return `${where} ${sets}`;
  const then = without.rule === null ? '' : ` (${without.rule})`;
  return `${where} ${sets}; without it ${without.pitch === null ? 'nothing' : `${um(without.pitch)}${then}`}`;
}

function costTable({ styles }: Sizes): string {
  const heads = styles[0]?.costs.map((cost) => cost.what) ?? [];
  const rows = styles.map((style) => [
    nameOf(style),
    ...style.costs.map(({ width, height }) =>
      width === null || height === null ? 'cannot be laid' : `${um(width)}, ${um(height)}`,
    ),
  ]);
  return `What one um more costs, um of width and height\n${table([['  style', ...heads], ...rows])}`;
}

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
  const what = `${usual ?? 'pads'} that each side holds alone, further ones, further pairs${pair === null ? '' : ` of ${pair.join(' and ')}`}`;
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
