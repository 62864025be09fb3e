/**
 * The mutation harness: tries operators at random places on sound placements, through the file's text as a script
 * would write it, and tallies whether the rule named beforehand caught each.
 */
import { judge } from '../../src/check/judge.ts';
import type { Finding, Placement } from '../../src/format/placement.ts';
import { readPlacement } from '../../src/format/read.ts';
import { CELL_OPERATORS } from './operators/cells.ts';
import { FIELD_OPERATORS } from './operators/fields.ts';
import { FOOTPRINT_OPERATORS } from './operators/footprints.ts';
import { type Draft, diceFrom, type Operator } from './operators/operator.ts';
import { PAD_OPERATORS } from './operators/pads.ts';
import { PIN_OPERATORS } from './operators/pins.ts';
import { RAIL_OPERATORS } from './operators/rails.ts';
import { REFERENCE_OPERATORS } from './operators/references.ts';
import { STEM_OPERATORS } from './operators/stems.ts';

export const OPERATORS: readonly Operator[] = [
  ...CELL_OPERATORS,
  ...PAD_OPERATORS,
  ...PIN_OPERATORS,
  ...STEM_OPERATORS,
  ...RAIL_OPERATORS,
  ...FOOTPRINT_OPERATORS,
  ...FIELD_OPERATORS,
  ...REFERENCE_OPERATORS,
];

/** The file's text; JSON has no infinity, but 1e999 reads as one, which is what the reader's operators may set. */
const textOf = (placement: unknown, rule: string): string =>
  rule.startsWith('reader')
    ? JSON.stringify(placement, (_, value) =>
        value === Number.POSITIVE_INFINITY ? '@infinite' : value,
      ).replaceAll('"@infinite"', '1e999')
    : JSON.stringify(placement);

const lineOf = (f: Finding): string => `${f.rule}: ${f.message}`;

/** What the checker says of a text: rules with their messages, or the reader's codes. */
function verdictOn(text: string): readonly string[] {
  const read = readPlacement(text);
  if (!read.ok) return read.problems.map((p) => `reader: ${p.code}`);
  return judge(read.value)
    .filter((f) => f.waived === undefined)
    .map(lineOf);
}

export interface Tally {
  trials: number;
  caught: number;
  /** What the checker said instead, for the first few. */
  readonly missed: string[];
}

/** A placement and what the checker says of it before anything is done to it. */
interface Base {
  readonly text: string;
  readonly before: ReadonlySet<string>;
}

/** Tries one operator so many times on one placement; fewer where it finds nothing to change. */
function tryOn(operator: Operator, { text, before }: Base, trials: number, seed: number, tally: Tally): void {
  for (let done = 0, k = 0; done < trials && k < 20 * trials; k++) {
    const draft: Draft = JSON.parse(text);
    if (!operator.apply(draft, diceFrom(seed * 1009 + k * 31))) continue;
    done++;
    tally.trials++;
    const verdict = verdictOn(textOf(draft, operator.rule)).filter((line) => !before.has(line));
    if (verdict.some((line) => line === operator.rule || line.startsWith(`${operator.rule}: `)))
      tally.caught++;
    else if (tally.missed.length < 3) tally.missed.push(verdict.slice(0, 3).join(' | ') || 'nothing');
  }
}

export interface Harvest {
  /** A line an operator: its name, how many of its trials were caught, by which rule. */
  readonly table: string;
  readonly missed: readonly string[];
  readonly trials: number;
}

/** Tries every operator on every placement. An operator that a set of placements gives no place must be let off. */
export function harvest(placements: readonly Placement[], trials: number, mayBeIdle: boolean): Harvest {
  const rows: string[] = [];
  const missed: string[] = [];
  let all = 0;
  const bases = placements.map((placement) => ({
    text: JSON.stringify(placement),
    before: new Set(judge(placement).map(lineOf)),
  }));
  OPERATORS.forEach((operator, index) => {
    const tally: Tally = { trials: 0, caught: 0, missed: [] };
    bases.forEach((base, n) => {
      tryOn(operator, base, trials, index * 17 + n, tally);
    });
    const share = tally.trials === 0 ? 'never tried' : `${tally.caught} of ${tally.trials}`;
    rows.push(`${operator.name.padEnd(68)} ${share.padStart(14)}  ${operator.rule}`);
    all += tally.trials;
    if (tally.caught < tally.trials || (tally.trials === 0 && !mayBeIdle))
      missed.push(`${operator.name} (${operator.rule}): ${share}; ${tally.missed.join(' || ')}`);
  });
  const head = `${'corruption'.padEnd(68)} ${'caught'.padStart(14)}  by rule`;
  return { table: `${head}\n${rows.join('\n')}`, missed, trials: all };
}
