/** What a build tells on the terminal: plain text, at most 80 columns wide. */
import { findingRank } from '../format/finding-order.ts';
import type { Finding, Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { counted, um } from './numbers.ts';
import { clean } from './text.ts';
import { findingsText } from './title.ts';
import { wireLines } from './wires-text.ts';

const WIDTH = 80;
/** Findings, arcs and the cells that feed an arc are told up to so many. */
const MOST = { findings: 20, arcs: 24, feeds: 6 } as const;

/** The summary, ending in a line feed. Lengths are micrometres. */
export function summaryText(placement: Placement): string {
  const { ring, bondPads } = placement;
  return [
    ...folded(
      `${clean(ring)}: ${counted(bondPads.length, 'bond pad')}, ${counted(placement.cells.length, 'cell')}`,
    ),
    '',
    ...dieLines(placement),
    '',
    ...table(sideRows(placement)),
    '',
    ...folded(fillers(placement)),
    ...wireLines(placement).flatMap((line) => folded(line)),
    ...arcLines(placement),
    '',
    ...findingLines(placement.findings),
    '',
  ].join('\n');
}

function dieLines({ die, core, summary, rules }: Placement): string[] {
  const by = { pads: 'set by the pads', core: 'set by the core', given: 'as given' } as const;
  const square = (area: number) => um(Math.round(area / 100) / 10_000);
  const shrunk =
    rules.shrink === 1
      ? ''
      : `, ${um(die.width * rules.shrink)} x ${um(die.height * rules.shrink)} on silicon`;
  return [
    ...folded(`die   ${um(die.width)} x ${um(die.height)} um${shrunk}, ${square(summary.area.die)} mm2`),
    ...folded(`      width ${by[summary.limits.width]}, height ${by[summary.limits.height]}`),
    ...folded(`core  ${um(core.width)} x ${um(core.height)} um left inside the ring`),
  ];
}

/** By side: style, pads, least pitch of each row against its limit, filled part. */
function sideRows(placement: Placement): string[][] {
  const head = ['side', 'style', 'cells', 'pads', 'least pitch', 'limit', 'filled'];
  const rows = placement.sides.map(({ side, style, cells, bondPads, length, filled }) => {
    const least = leastPitch(placement, side);
    return [
      side,
      style,
      String(cells),
      String(bondPads),
      least === undefined ? '-' : um(least),
      least === undefined ? '-' : um(placement.rules.pads.pitch),
      `${um(filled)} of ${um(length)}`,
    ];
  });
  return [head, ...rows];
}

/** The least distance along a side between the centres of neighbouring pads of one row. */
function leastPitch({ bondPads }: Placement, side: Side): number | undefined {
  const rows = new Map<string, number[]>();
  for (const pad of bondPads) {
    if (pad.side !== side) continue;
    const s = side === 'left' || side === 'right' ? pad.y : pad.x;
    rows.set(pad.row, [...(rows.get(pad.row) ?? []), s]);
  }
  const steps = [...rows.values()].flatMap((places) => {
    const sorted = places.toSorted((a, b) => a - b);
    return sorted.slice(1).map((s, i) => s - (sorted[i] ?? s));
  });
  return steps.length === 0 ? undefined : Math.min(...steps);
}

function fillers({ cells }: Placement): string {
  const counts = new Map<string, number>();
  for (const { role, footprint } of cells)
    if (role === 'filler') counts.set(footprint, (counts.get(footprint) ?? 0) + 1);
  if (counts.size === 0) return 'fillers: none';
  const kinds = [...counts].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, n]) => `${n} ${clean(name)}`);
  return `fillers: ${kinds.join(', ')}`;
}

function arcLines({ rails, cells }: Placement): string[] {
  if (rails.length === 0) return ['arcs: none'];
  const pins = new Map(cells.map((cell) => [cell.name, cell.pins ?? []]));
  const feed = (name: string) => {
    const own = pins.get(name) ?? [];
    return clean(own.length > 0 ? own.join('+') : name);
  };
  const told = rails.slice(0, MOST.arcs).flatMap(({ lane, net, closed, supplies, cells: through }) => {
    const counts = new Map<string, number>();
    for (const name of supplies) counts.set(feed(name), (counts.get(feed(name)) ?? 0) + 1);
    const feeds = [...counts].map(([name, count]) => (count === 1 ? name : `${name} (${count})`));
    const shown = feeds.slice(0, MOST.feeds);
    const more = feeds.length > shown.length ? ` and ${feeds.length - shown.length} more` : '';
    const fed = feeds.length === 0 ? 'fed by nothing' : `fed by ${shown.join(', ')}${more}`;
    const kind = closed ? 'closed' : 'open';
    return folded(`  ${clean(lane)} ${clean(net)}, ${kind}, through ${counted(through, 'cell')}, ${fed}`, 6);
  });
  const rest = rails.length - MOST.arcs;
  return ['arcs:', ...told, ...(rest > 0 ? [`  and ${rest} more`] : [])];
}

/** The gravest findings that stand, and every one that is waived with its reason. */
function findingLines(findings: readonly Finding[]): string[] {
  if (findings.length === 0) return ['no findings'];
  const waived = findings.filter((finding) => finding.waived !== undefined);
  const standing = findings
    .filter((finding) => finding.waived === undefined)
    .toSorted((a, b) => findingRank(a) - findingRank(b));
  const rest = standing.length - MOST.findings;
  return [
    ...folded(`findings: ${findingsText(findings)}`),
    ...standing.slice(0, MOST.findings).flatMap((finding) => findingLine(finding, finding.severity)),
    ...(rest > 0 ? [`  and ${rest} more, in placement.json`] : []),
    ...waived.flatMap((finding) => findingLine(finding, `waived (${clean(finding.waived ?? '')})`)),
  ];
}

function findingLine({ rule, message, x, y }: Finding, kind: string): string[] {
  const place = x === undefined || y === undefined ? '' : ` at (${um(x)}, ${um(y)})`;
  return folded(`  ${kind}: ${clean(message)}${place} [${clean(rule)}]`, 6);
}

/** Columns on a terminal: letters of the full-width scripts and pictures take two, marks on letters none. */
export function columns(text: string): number {
  let sum = 0;
  for (const letter of text) {
    const point = letter.codePointAt(0) ?? 0;
    if (/\p{M}/u.test(letter)) continue;
    const wide =
      (point >= 0x1100 && point <= 0x115f) ||
      (point >= 0x2e80 && point <= 0xa4cf) ||
      (point >= 0xac00 && point <= 0xd7a3) ||
      (point >= 0xf900 && point <= 0xfaff) ||
      (point >= 0xfe30 && point <= 0xfe6f) ||
      (point >= 0xff00 && point <= 0xff60) ||
      point >= 0x1f300;
    sum += wide ? 2 : 1;
  }
  return sum;
}

/** A text in lines of at most the width, broken at blanks, further lines indented. */
function folded(text: string, indent = 6): string[] {
  const lines: string[] = [];
  let line = '';
  const flush = (next: string) => {
    lines.push(line.trimEnd());
    line = ' '.repeat(indent) + next;
  };
  for (const part of text.split(/(?<= )/)) {
    if (columns(line + part.trimEnd()) > WIDTH && line.trim() !== '') flush('');
    for (const letter of part) {
      if (columns(line + letter) > WIDTH && letter !== ' ') flush('');
      line += letter;
    }
  }
  lines.push(line.trimEnd());
  return lines;
}

/** Columns padded to their widest, figures to the right. */
function table(rows: readonly (readonly string[])[]): string[] {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => columns(row[i] ?? ''))));
  return rows.map((row) =>
    row
      .map((text, i) => {
        const room = ' '.repeat((widths[i] ?? 0) - columns(text));
        return i < 2 ? text + room : room + text;
      })
      .join('  ')
      .trimEnd(),
  );
}
