/** A key that can change nothing in this ring is refused, so that nobody relies on it. */
import type { Side } from '../geometry/side.ts';
import type { Units } from '../geometry/units.ts';
import type { Source } from '../source/source.ts';
import { type Report, shown } from './report.ts';
import type { Entry, Section, Style } from './ring.ts';
import type { KnownText } from './schema.ts';

/** What the sides have, as far as keys depend on it. */
export interface Facts {
  readonly styles: Readonly<Record<Side, Style>>;
  readonly entries: Readonly<Record<Side, readonly Entry[]>>;
  readonly twoRows: (side: Side) => boolean;
  readonly toCell: Units;
}

const PLACES: readonly Side[] = ['left', 'bottom', 'right', 'top'];

/** How many bond pads a cell has. */
export const padCount = (entry: Entry): number =>
  entry.footprint.landings.filter((landing) => landing.inside !== null || entry.pad !== null).length;

const padsOf = (entries: readonly Entry[]): number =>
  entries.reduce((sum, entry) => sum + padCount(entry), 0);

/** Whether bond pads stand outside the cells of a side. */
const outside = (style: Style): boolean => style === 'inline' || style === 'staggered';

/** The sides where a stem has any length: across the gap to the cells, a shorter pad, a setback or the inner row. */
export const sidesWithStems = (facts: Facts): readonly Side[] =>
  PLACES.filter((side) => {
    const padded = facts.entries[side].filter((entry) => entry.pad !== null && padCount(entry) > 0);
    if (!outside(facts.styles[side]) || padded.length === 0) return false;
    const depths = new Set(padded.map((entry) => entry.pad?.deep));
    return (
      facts.toCell > 0 ||
      depths.size > 1 ||
      padded.some((entry) => entry.footprint.setback > 0) ||
      (facts.twoRows(side) && padsOf(padded) > 1)
    );
  });

/** Reports every key of the ring that is given and can change nothing. */
export function refuseUseless(report: Report, source: Source, text: KnownText, facts: Facts): void {
  const refuse = (path: readonly string[], why: string): void =>
    report.absence(
      source.placeOfKey(path),
      'useless-key',
      `\`${path.join('.')}\` can change nothing: ${why}`,
      'leave it out',
    );
  const withPads = PLACES.filter((side) => padsOf(facts.entries[side]) > 0);
  const over = withPads.filter((side) => facts.styles[side] === 'over-circuit');
  const outsideSides = withPads.filter((side) => outside(facts.styles[side]));
  const double = withPads.filter((side) => facts.twoRows(side));
  if (text.bondPads?.toCell !== undefined && outsideSides.length === 0)
    refuse(['bondPads', 'toCell'], 'no bond pad stands outside the cells');
  uselessKinds(refuse, text, facts);
  if (text.rows?.overCircuit !== undefined && over.length === 0)
    refuse(['rows', 'overCircuit'], 'no side is over circuit');
  if (text.rows?.inset !== undefined && over.length === 0)
    refuse(['rows', 'inset'], 'no side is over circuit');
  if (text.rows?.gap !== undefined && double.length === 0) refuse(['rows', 'gap'], 'no side has two rows');
  if (text.rows?.first !== undefined) {
    const turns = double.some((side) => facts.entries[side].some((e) => e.row === null && e.pad !== null));
    if (double.length === 0) refuse(['rows', 'first'], 'no side has two rows');
    else if (!turns) refuse(['rows', 'first'], 'every pad of the sides with two rows names its row');
  }
  if (text.rows !== undefined && Object.keys(text.rows).length === 0) refuse(['rows'], 'it is empty');
  if (text.stems !== undefined && sidesWithStems(facts).length === 0)
    refuse(['stems'], 'no bond pad stands off its cell, so there are no stems');
  uselessSides(refuse, text, withPads, facts);
}

type Refuse = (path: readonly string[], why: string) => void;

function uselessKinds(refuse: Refuse, text: KnownText, facts: Facts): void {
  const used = new Set(PLACES.flatMap((side) => facts.entries[side].map((entry) => entry.pad?.name)));
  for (const kind of Object.keys(text.bondPads?.kinds ?? {}))
    if (!used.has(kind)) refuse(['bondPads', 'kinds', kind], 'no pin has such a bond pad');
}

function uselessSides(refuse: Refuse, text: KnownText, withPads: readonly Side[], facts: Facts): void {
  for (const key of ['style', 'slack'] as const) {
    const by = text[key];
    if (typeof by === 'object' && by.default !== undefined && PLACES.every((side) => by[side] !== undefined))
      refuse([key, 'default'], 'every side is named');
  }
  const { slack } = text;
  if (typeof slack === 'object')
    for (const side of PLACES)
      if (slack[side] !== undefined && facts.entries[side].length === 0)
        refuse(['slack', side], `the ${side} side is empty`);
  const start = text.numbering?.side;
  if (start !== undefined && withPads.length > 0 && !withPads.includes(start))
    refuse(['numbering', 'side'], `the ${start} side has no bond pad`);
}

/** Break cells are only set where neighbouring sections have different nets. */
export function refuseUselessBreaks(
  report: Report,
  source: Source,
  text: KnownText,
  sections: readonly Section[],
): void {
  const lanes = new Set(sections.flatMap((section) => [...section.lanes.keys()]));
  const differ = [...lanes].some((lane) => new Set(sections.map((s) => s.lanes.get(lane))).size > 1);
  if (text.breaks === undefined || differ) return;
  report.absence(
    source.placeOfKey(['breaks']),
    'useless-key',
    `\`breaks\` can change nothing: ${sections.length === 1 ? `${shown(sections[0]?.name ?? '')} is the only section` : 'all sections have the same nets'}`,
    'leave it out',
  );
}
