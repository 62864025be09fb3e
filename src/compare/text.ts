/** The difference as lines for a terminal. */
import type { Arcs, LaneView } from './arcs.ts';
import { type Difference, isEmpty, type Moved, type PinNote } from './difference.ts';
import type { PinPlace } from './pins.ts';

/** Names that a line lists before it only counts. */
const LISTED = 6;

/** A name without its control characters, which would run in a terminal. */
const shown = (name: string): string =>
  [...name].map((sign) => (sign < ' ' || (sign >= '\u007f' && sign <= '\u009f') ? '\ufffd' : sign)).join('');

const signed = (length: number): string => (length > 0 ? `+${length}` : String(length));
const counted = (count: number, one: string): string => `${count} ${count === 1 ? one : `${one}s`}`;
const placeText = ({ side, s, t }: PinPlace): string => `${side} side at ${s}, ${t} deep`;

/** A line of counts, then a block for each kind of change; one line where there is none. */
export function differenceText(difference: Difference): string {
  if (isEmpty(difference)) return 'the same ring\n';
  const blocks = differenceBlocks(difference).map(
    ({ head, lines }) => `${head}\n${lines.map((line) => `  ${line}\n`).join('')}`,
  );
  return `${headLine(difference)}\n${blocks.join('')}`;
}

export interface Block {
  readonly head: string;
  readonly lines: readonly string[];
}

/** The kinds of change that there are, each with its lines; neighbours that changed alike share one. */
export function differenceBlocks(difference: Difference): readonly Block[] {
  const changed = runs(
    difference.changed,
    (a, b) => a.what === b.what && a.from === b.from && a.to === b.to,
  ).map((run) => `${names(run)}: ${run[0].what} ${change(run[0].from, run[0].to)}`);
  const settings = difference.settings.map(({ path, from, to }) => `${shown(path)}: ${change(from, to)}`);
  return [
    { head: 'ring', lines: ringLines(difference) },
    { head: 'added', lines: difference.added.map(pinText) },
    { head: 'removed', lines: difference.removed.map(pinText) },
    { head: 'moved', lines: runs(difference.moved, sameMove).map(moveText) },
    { head: 'renumbered', lines: runs(difference.renumbered, sameStep).map(numberText) },
    { head: 'changed', lines: changed },
    { head: 'rails', lines: difference.arcs.map(arcText) },
    { head: 'cells without pins', lines: difference.otherCells.map(cellText) },
    { head: 'settings', lines: settings },
    { head: 'footprints', lines: footprintLines(difference) },
    { head: 'findings', lines: findingLines(difference) },
    { head: 'other fields of the file', lines: difference.rest },
  ].filter(({ lines }) => lines.length > 0);
}

const change = (from: string | null, to: string | null): string =>
  `${shown(from ?? 'none')} -> ${shown(to ?? 'none')}`;

export function headLine(difference: Difference): string {
  const counts = [
    [difference.added.length, 'added'],
    [difference.removed.length, 'removed'],
    [difference.moved.length, 'moved'],
    [difference.renumbered.length, 'renumbered'],
    [new Set(difference.changed.map(({ pin }) => pin)).size, 'changed'],
  ] as const;
  const words = counts
    .filter(([count]) => count > 0)
    .map(([count, word]) => `${counted(count, 'pin')} ${word}`);
  return words.length === 0 ? 'no pin differs' : words.join(', ');
}

function ringLines({ ring, die, core, styles }: Difference): readonly string[] {
  const size = ({ width, height }: { readonly width: number; readonly height: number }): string =>
    `${width} x ${height}`;
  return [
    ...(ring ? [`name: ${shown(ring.from)} -> ${shown(ring.to)}`] : []),
    ...(die
      ? [
          `die: ${size(die.from)} -> ${size(die.to)} um, ` +
            `width ${signed(die.by.width)}, height ${signed(die.by.height)}`,
        ]
      : []),
    ...(core ? [`core: ${size(core.from)} -> ${size(core.to)} um`] : []),
    ...styles.map(({ side, from, to }) => `${side} side: ${from} -> ${to}`),
  ];
}

function pinText({ pin, number, net, cell, section, place }: PinNote): string {
  const parts = [
    number === null ? 'no bond pad' : `number ${number}`,
    placeText(place),
    `cell ${shown(cell)}`,
    ...(section === null ? [] : [`section ${shown(section)}`]),
    ...(net === null || net === pin ? [] : [`net ${shown(net)}`]),
  ];
  return `${shown(pin)}: ${parts.join(', ')}`;
}

type Run<T> = readonly [T, ...T[]];

/** Neighbours in a list that changed alike, so that one pushed row is one line. */
function runs<T>(list: readonly T[], alike: (a: T, b: T) => boolean): readonly Run<T>[] {
  const all: [T, ...T[]][] = [];
  for (const item of list) {
    const open = all.at(-1);
    if (open && alike(open[0], item)) open.push(item);
    else all.push([item]);
  }
  return all;
}

const sameMove = (a: Moved, b: Moved): boolean =>
  a.along !== null &&
  a.from.side === b.from.side &&
  a.to.side === b.to.side &&
  a.along === b.along &&
  a.inward === b.inward;

type Numbered = Difference['renumbered'][number];
const step = ({ from, to }: Numbered): number | null => (from === null || to === null ? null : to - from);
const sameStep = (a: Numbered, b: Numbered): boolean => step(a) !== null && step(a) === step(b);

const names = (run: readonly { readonly pin: string }[]): string => listed(run.map(({ pin }) => pin));

function listed(pins: readonly string[]): string {
  const all = pins.map(shown);
  return all.length <= LISTED
    ? all.join(', ')
    : `${all.slice(0, 2).join(', ')} ... ${all.at(-1) ?? ''} (${all.length} pins)`;
}

function moveText(run: Run<Moved>): string {
  const [{ from, to, along, inward, distance }] = run;
  if (along === null)
    return `${names(run)}: ${placeText(from)} -> ${placeText(to)}, ${Math.round(distance * 1000) / 1000} um`;
  const way = [
    ...(along === 0 ? [] : [`${signed(along)} along`]),
    ...(inward === null || inward === 0 ? [] : [`${signed(inward)} inward`]),
  ].join(', ');
  const at = run.length === 1 ? `, ${from.s} -> ${to.s}` : '';
  return `${names(run)}: ${to.side} side, ${way}${at}`;
}

function numberText(run: Run<Numbered>): string {
  const [first] = run;
  const by = step(first);
  const change = `${first.from ?? 'none'} -> ${first.to ?? 'none'}`;
  return run.length === 1 || by === null
    ? `${names(run)}: ${change}`
    : `${names(run)}: ${signed(by)} each, the first ${change}`;
}

function arcText({ lane, recut, from, to }: Arcs): string {
  const arcs = (view: LaneView): string =>
    view.arcs
      .map(({ net, closed, fedBy }) => {
        const feed = fedBy.length === 0 ? 'unfed' : `fed by ${listed(fedBy)}`;
        return `${shown(net)} ${closed ? 'closed' : 'open'} ${feed}`;
      })
      .join('; ') || 'none';
  return `${shown(lane)} ${recut ? 're-cut' : 'fed otherwise'}: ${arcs(from)} -> ${arcs(to)}`;
}

function cellText({ footprint, from, to, moved }: Difference['otherCells'][number]): string {
  const count = from === to ? String(to) : `${from} -> ${to}`;
  return `${shown(footprint)}: ${count}${moved === 0 ? '' : `, ${moved} of them elsewhere`}`;
}

const footprintLines = ({ footprints }: Difference): readonly string[] => [
  ...footprints.added.map((name) => `${shown(name)}: new in the library`),
  ...footprints.removed.map((name) => `${shown(name)}: no longer in the library`),
  ...footprints.changed.map((name) => `${shown(name)}: changed in the library`),
];

const findingLines = ({ findings }: Difference): readonly string[] => [
  ...findings.appeared.map((f) => `new: ${f.severity}: ${shown(f.message)} [${f.rule}]`),
  ...findings.gone.map((f) => `gone: ${f.severity}: ${shown(f.message)} [${f.rule}]`),
];
