/**
 * Two placements against each other, in the words of whoever reviews a ring: what came, went, moved, was renumbered,
 * changed. Pins are told apart by name, places by the side's own frame, and the order of lists means nothing.
 */
import type { Finding, Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { type Arcs, arcsChanged } from './arcs.ts';
import { type OtherCells, otherCells } from './others.ts';
import { DETAILS, type Detail, matchPins, type PinPlace, type PinView, rounded } from './pins.ts';
import { footprintsChanged, leftOver, type Setting, settingsChanged } from './settings.ts';

export interface PinNote {
  readonly pin: string;
  readonly number: number | null;
  readonly net: string | null;
  readonly cell: string;
  readonly section: string | null;
  readonly place: PinPlace;
}

export interface Moved {
  readonly pin: string;
  readonly from: PinPlace;
  readonly to: PinPlace;
  /** On one side: counter-clockwise along it and inward; null where it changed sides. */
  readonly along: number | null;
  readonly inward: number | null;
  /** The length of the way: in the side's frame on one side, else from point to point of the two dies. */
  readonly distance: number;
}

export interface Changed {
  readonly pin: string;
  readonly what: 'cell' | 'section' | 'net' | Detail;
  readonly from: string | null;
  readonly to: string | null;
}

export interface FromTo<T> {
  readonly from: T;
  readonly to: T;
}

type Size = { readonly width: number; readonly height: number };

export interface Difference {
  readonly ring: FromTo<string> | null;
  /** `by` is how much the die grew, negative where it shrank. */
  readonly die: (FromTo<Size> & { readonly by: Size }) | null;
  readonly core: FromTo<Placement['core']> | null;
  readonly styles: readonly (FromTo<string> & { readonly side: Side })[];
  readonly added: readonly PinNote[];
  readonly removed: readonly PinNote[];
  readonly moved: readonly Moved[];
  readonly renumbered: readonly (FromTo<number | null> & { readonly pin: string })[];
  readonly changed: readonly Changed[];
  readonly arcs: readonly Arcs[];
  /** Cells without pins, by footprint. */
  readonly otherCells: readonly OtherCells[];
  /** Rules, numbering, sections, nets and the grid, each changed value by its path. */
  readonly settings: readonly Setting[];
  readonly footprints: {
    readonly added: readonly string[];
    readonly removed: readonly string[];
    readonly changed: readonly string[];
  };
  readonly findings: { readonly appeared: readonly Finding[]; readonly gone: readonly Finding[] };
  /** Fields of the file that differ although nothing above does. */
  readonly rest: readonly string[];
}

export function difference(a: Placement, b: Placement): Difference {
  const { kept, added, removed } = matchPins(a, b);
  const found: Omit<Difference, 'rest'> = {
    ring: a.ring === b.ring ? null : { from: a.ring, to: b.ring },
    die: dieChanged(a.die, b.die),
    core: JSON.stringify(box(a.core)) === JSON.stringify(box(b.core)) ? null : { from: a.core, to: b.core },
    styles: stylesChanged(a, b),
    added: added.map(noteOf),
    removed: removed.map(noteOf),
    moved: kept.flatMap(([from, to]) => movedBetween(from, to)),
    renumbered: kept
      .filter(([from, to]) => from.number !== to.number)
      .map(([from, to]) => ({ pin: to.key, from: from.number, to: to.number })),
    changed: kept.flatMap(([from, to]) => changesBetween(from, to)),
    arcs: arcsChanged(a, b),
    otherCells: otherCells(a, b),
    settings: settingsChanged(a, b),
    footprints: footprintsChanged(a, b),
    findings: {
      appeared: without(b.findings, a.findings),
      gone: without(a.findings, b.findings),
    },
  };
  const rest = isEmpty({ ...found, rest: [] }) ? leftOver(a, b) : [];
  return { ...found, rest };
}

/** Whether two placements are one and the same ring. */
export function isEmpty(difference: Difference): boolean {
  const { footprints, findings } = difference;
  const lists = [
    difference.styles,
    difference.added,
    difference.removed,
    difference.moved,
    difference.renumbered,
    difference.changed,
    difference.arcs,
    difference.otherCells,
    difference.settings,
    footprints.added,
    footprints.removed,
    footprints.changed,
    findings.appeared,
    findings.gone,
    difference.rest,
  ];
  return (
    difference.ring === null &&
    difference.die === null &&
    difference.core === null &&
    lists.every((list) => list.length === 0)
  );
}

const noteOf = ({ key, number, net, cell, section, place }: PinView): PinNote => ({
  pin: key,
  number,
  net,
  cell,
  section,
  place,
});

const box = ({ x, y, width, height }: Placement['core']): readonly number[] => [x, y, width, height];

function dieChanged(from: Size, to: Size): Difference['die'] {
  const by = { width: rounded(to.width - from.width), height: rounded(to.height - from.height) };
  return by.width === 0 && by.height === 0 ? null : { from, to, by };
}

function stylesChanged(a: Placement, b: Placement): Difference['styles'] {
  const before = new Map(a.sides.map(({ side, style }) => [side, style]));
  return b.sides.flatMap(({ side, style }) => {
    const from = before.get(side);
    return from === undefined || from === style ? [] : [{ side, from, to: style }];
  });
}

function movedBetween({ place: from }: PinView, { key, place: to }: PinView): readonly Moved[] {
  if (from.side !== to.side) {
    const distance = rounded(Math.hypot(to.x - from.x, to.y - from.y));
    return [{ pin: key, from, to, along: null, inward: null, distance }];
  }
  const along = rounded(to.s - from.s);
  const inward = rounded(to.t - from.t);
  if (along === 0 && inward === 0) return [];
  return [{ pin: key, from, to, along, inward, distance: rounded(Math.hypot(along, inward)) }];
}

/** Where the pad sits on its cell says nothing when the cell is another one. */
function changesBetween(from: PinView, to: PinView): readonly Changed[] {
  const pin = to.key;
  const changes: Changed[] = [];
  for (const what of ['cell', 'section', 'net'] as const)
    if (from[what] !== to[what]) changes.push({ pin, what, from: from[what], to: to[what] });
  const same = from.cell === to.cell && from.details.drawing === to.details.drawing;
  for (const what of DETAILS) {
    if (what === 'place on its cell' && !same) continue;
    if (from.details[what] !== to.details[what])
      changes.push({ pin, what, from: from.details[what], to: to.details[what] });
  }
  return changes;
}

/** The findings of one list that the other does not have; the wording of a figure in it does not count. */
function without(list: readonly Finding[], other: readonly Finding[]): readonly Finding[] {
  const key = ({ rule, severity, items, waived }: Finding): string =>
    JSON.stringify([rule, severity, [...items].sort(), waived ?? null]);
  const counts = new Map<string, number>();
  for (const finding of other) counts.set(key(finding), (counts.get(key(finding)) ?? 0) + 1);
  return list.filter((finding) => {
    const count = counts.get(key(finding)) ?? 0;
    counts.set(key(finding), count - 1);
    return count <= 0;
  });
}
