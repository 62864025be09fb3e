/** Reading LEF statement by statement, with what was wrong on the way. */
import { type Units, units, ZERO } from '../../geometry/units.ts';
import type { Place, Problem } from '../../problems/problem.ts';
import { unseenIn } from '../../problems/unseen.ts';
import { type Lines, linesOf } from '../../source/lines.ts';
import { shortText } from '../../source/source.ts';
import { type Words, wordsOf } from './words.ts';

/** How much a LEF file may hold. */
export const LEF_LIMITS = {
  characters: 128 * 1024 * 1024,
  /** Shapes of pins, polygons cut into rectangles. */
  shapes: 400_000,
  /** Words of one statement that is not passed over. */
  words: 10_000,
  /** Corners of one polygon. */
  corners: 2_000,
  /** Steps spent on cutting polygons. */
  cuts: 50_000_000,
  problems: 100,
  notes: 20,
} as const;

export interface Reading {
  readonly words: Words;
  readonly lines: Lines;
  readonly problems: Problem[];
  readonly notes: Problem[];
  /** What is left of the limits. */
  readonly left: { shapes: number; cuts: number };
  /** Where the present statement starts. */
  readonly statement: { start: number };
}

export const startReading = (text: string, file: string): Reading => ({
  words: wordsOf(text),
  lines: linesOf(text, file),
  problems: [],
  notes: [],
  left: { shapes: LEF_LIMITS.shapes, cuts: LEF_LIMITS.cuts },
  statement: { start: 0 },
});

export const placeHere = (reading: Reading): Place => reading.lines(reading.words.at());

/** Adds a problem at the word taken last. */
export const wrong = (reading: Reading, code: string, message: string, mend?: string): void =>
  wrongAt(reading, reading.words.at(), code, message, mend);

/** Adds a problem at the start of the present statement. */
export const wrongStatement = (reading: Reading, code: string, message: string, mend?: string): void =>
  wrongAt(reading, reading.statement.start, code, message, mend);

/** Adds a problem of a block whose end is not found, at the word taken last. */
export const noEnd = (reading: Reading, block: string, end: string): void =>
  wrong(
    reading,
    'lef-syntax',
    `${block} has no \`END\``,
    `add \`${end}\`; a file that was cut short lacks it too`,
  );

/** Adds a problem at an offset; at the limit, reading ends. */
function wrongAt(reading: Reading, offset: number, code: string, message: string, mend?: string): void {
  if (reading.problems.length >= LEF_LIMITS.problems) {
    reading.words.stop();
    return;
  }
  const place = reading.lines(offset);
  reading.problems.push({ code, message, ...(mend === undefined ? {} : { mend }), place });
}

/** The name that is taken next; a problem where it holds a sign that nobody can see. */
export function takeName(reading: Reading, kind: string): string {
  const name = reading.words.take();
  checkName(reading, kind, name);
  return name;
}

/** The layer that a `LAYER` statement names; null where it names none. */
export function layerOf(reading: Reading): string | null {
  const [name] = restOfStatement(reading, 'LAYER');
  if (name !== undefined) checkName(reading, 'layer', name);
  return name ?? null;
}

function checkName(reading: Reading, kind: string, name: string): void {
  const sign = unseenIn(name);
  if (sign !== undefined)
    wrong(
      reading,
      'wrong-form',
      `the name of the ${kind} \`${shortText(name, 60)}\` holds the sign ${sign}, which cannot be seen or not be told from others`,
      'write the name without it, at its `END` too',
    );
}

export function note(reading: Reading, code: string, message: string): void {
  if (reading.notes.length < LEF_LIMITS.notes)
    reading.notes.push({ code, message, place: placeHere(reading) });
}

/** A keyword in capitals: files in use write some of them otherwise. */
export const keywordOf = (word: string): string => word.toUpperCase();

/** Words that never stand inside a statement: where one turns up, a `;` is missing before it. */
export const STARTS = new Set(['END', 'MACRO', 'PIN', 'PORT', 'OBS', '']);

const MISSING_END = 'add it; a file that was cut short lacks it too';

/** Takes the rest of a statement, up to and with its `;`. */
export function restOfStatement(reading: Reading, keyword: string): readonly string[] {
  const { words } = reading;
  const rest: string[] = [];
  reading.statement.start = words.at();
  while (!STARTS.has(words.peek())) {
    const word = words.take();
    if (word === ';') return rest;
    if (rest.push(word) <= LEF_LIMITS.words) continue;
    wrongStatement(
      reading,
      'lef-too-large',
      `the statement \`${shortText(keyword, 40)}\` has more than ${LEF_LIMITS.words} words`,
      'look for a missing `;`, or draw the shape with fewer corners',
    );
    passStatement(reading, keyword);
    return [];
  }
  wrongStatement(
    reading,
    'lef-syntax',
    `the statement \`${shortText(keyword, 40)}\` has no \`;\` at its end`,
    MISSING_END,
  );
  return rest;
}

/** Passes over the rest of a statement. */
export function passStatement(reading: Reading, keyword: string): void {
  const { words } = reading;
  reading.statement.start = words.at();
  while (!STARTS.has(words.peek())) if (words.take() === ';') return;
  wrongStatement(
    reading,
    'lef-syntax',
    `the statement \`${shortText(keyword, 40)}\` has no \`;\` at its end`,
    MISSING_END,
  );
}

/** Passes over a block up to `END` and its name, or to a lone `END` where the block has no name. */
export function passBlock(reading: Reading, keyword: string, name?: string): void {
  const { words } = reading;
  const start = words.at();
  for (let word = words.take(); word !== ''; word = words.take()) {
    if (keywordOf(word) !== 'END' || (name !== undefined && words.peek() !== name)) continue;
    if (name !== undefined) words.take();
    return;
  }
  reading.problems.push({
    code: 'lef-syntax',
    message: `the block \`${shortText([keyword, name ?? ''].join(' ').trim(), 60)}\` has no end`,
    mend: `add \`END${name === undefined ? '' : ` ${shortText(name, 60)}`}\`; a file that was cut short lacks it too`,
    place: reading.lines(start),
  });
}

/** A number as LEF writes it; undefined where the word is none. */
export function numberOf(word: string | undefined): number | undefined {
  if (word === undefined || !/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(word)) return undefined;
  const value = Number(word);
  return Number.isFinite(value) ? value : undefined;
}

/** Nothing on a chip is a metre long. */
const METRE = 1_000_000;

/** A length in micrometres, to the nearest picometre; a problem and zero where it is none. */
export function lengthOf(reading: Reading, word: string | undefined, keyword: string): Units {
  const value = numberOf(word);
  if (value !== undefined && Math.abs(value) <= METRE) return units(Math.round(value * 1e6) + 0);
  wrongStatement(
    reading,
    'lef-number',
    value === undefined
      ? `\`${keyword}\` needs a number, but has \`${shortText(word ?? ';', 40)}\``
      : `\`${keyword}\` has ${value} micrometres, which is more than a metre`,
    'write micrometres, a number such as 12.5 or -3',
  );
  return ZERO;
}
