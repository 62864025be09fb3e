/** What must hold of whatever comes out: places within the texts, plain messages, drawings and tables nobody can abuse. */
import { parse } from 'csv-parse/sync';
import type { Placement } from '../../../src/format/placement.ts';
import { readPlacement } from '../../../src/format/read.ts';
import type { Problem } from '../../../src/problems/problem.ts';

export type Texts = ReadonlyMap<string, string>;

/** Something that must not be. */
export class Wrong extends Error {}

const wrong = (what: string): never => {
  throw new Wrong(what);
};

/** Only these may stand without a place: they speak of other problems, or of the ring as a whole. */
const PLACELESS = new Set(['more-problems']);

/** Problems or notes: each with a message that can be read, and a place within the text that it names. */
export function problemsHold(problems: readonly Problem[], texts: Texts): void {
  if (problems.length > 110) wrong(`${problems.length} problems at once`);
  for (const problem of problems) {
    const { code, message, mend = '', place } = problem;
    const said = `[${code}] ${message} / ${mend}`;
    if (!/^[a-z]+(-[a-z]+)*$/.test(code)) wrong(`the code ${code}`);
    if (message.trim() === '') wrong(`no message: ${code}`);
    if (said.length > 3000) wrong(`a message of ${said.length} characters: ${said.slice(0, 200)}`);
    if (
      /\bundefined\b|\[object |\bNaN\b|[\p{Cc}\p{Zl}\p{Zp}\p{Cs}\u202a-\u202e\u2066-\u2069]/u.test(
        stripped(said),
      )
    )
      wrong(`a message that cannot be read: ${said.slice(0, 300)}`);
    if (place === undefined) {
      if (!PLACELESS.has(code)) wrong(`no place: ${said.slice(0, 300)}`);
      continue;
    }
    const text = texts.get(place.file);
    if (text === undefined) wrong(`a place in ${place.file}, which is none of the files: ${said}`);
    else placeHolds(place.line, place.column, place.file.endsWith('.json') ? text : inLines(text), said);
  }
}

/** What the user wrote may stand in a message between signs that mark it as quoted. */
const stripped = (said: string): string => said.replace(/`[^`\n]*`|"[^"\n]*"/g, 'x');

/** YAML, tables and LEF end a line by a carriage return alone, too. */
const inLines = (text: string): string => text.replace(/\r(?!\n)/g, '\n');

function placeHolds(line: number, column: number, text: string, said: string): void {
  if (!Number.isInteger(line) || !Number.isInteger(column) || line < 1 || column < 1)
    wrong(`line ${line}, column ${column}: ${said}`);
  let start = 0;
  for (let k = 1; k < line; k++) {
    const end = text.indexOf('\n', start);
    if (end < 0) {
      wrong(`line ${line} of ${k}: ${said}`);
      return;
    }
    start = end + 1;
  }
  const end = text.indexOf('\n', start);
  const length = (end < 0 ? text.length : end) - start;
  if (column > length + 1) wrong(`line ${line}, column ${column} of ${length}: ${said}`);
}

/** Every file of a build. */
export function filesHold(files: ReadonlyMap<string, string | Uint8Array>): void {
  for (const [name, content] of files) {
    if (!/^[a-z][a-z-]*\d*\.(json|svg|html|csv|def|v|gds)$/.test(name)) wrong(`a file named ${name}`);
    if (typeof content !== 'string') continue;
    if (name.endsWith('.svg')) svgHolds(name, content);
    if (name.endsWith('.csv')) csvHolds(name, content);
  }
  const json = files.get('placement.json');
  if (typeof json === 'string') {
    const again = readPlacement(json);
    if (!again.ok) wrong(`placement.json is refused: ${again.problems[0]?.message}`);
  }
}

const NAME = /^[A-Za-z_][\w:.-]*$/;
const ATTRIBUTE = /([\w:-]+)="([^"<]*)"\s*/y;

/** Well-formed markup (XML 1.0, sections 2.1 and 2.2), with no script and nothing that leads out of the file. */
export function svgHolds(name: string, text: string): void {
  const odd = /(?![\t\n\r\u007f-\u009f])\p{Cc}|[\ufffe\uffff]|\p{Cs}/u.exec(text);
  if (odd) wrong(`${name} holds the sign ${odd[0].charCodeAt(0)}`);
  if (/&(?!(amp|lt|gt|quot|apos|#\d+|#x[0-9a-fA-F]+);)/.test(text)) wrong(`${name} holds a bare ampersand`);
  const open: string[] = [];
  let at = 0;
  while (at < text.length) {
    const start = text.indexOf('<', at);
    if (start < 0) break;
    const end = text.indexOf('>', start);
    if (end < 0) wrong(`${name} ends within a tag`);
    const tag = text.slice(start + 1, end);
    at = end + 1;
    if (tag.startsWith('?xml')) continue;
    if (tag.startsWith('/')) {
      if (open.pop() !== tag.slice(1).trim()) wrong(`${name} closes ${tag} where another is open`);
      continue;
    }
    const alone = tag.endsWith('/');
    const [word = ''] = tag.split(/[\s/]/, 1);
    if (!NAME.test(word)) wrong(`${name} has the tag ${tag.slice(0, 60)}`);
    if (/^script$/i.test(word)) wrong(`${name} has a script`);
    attributesHold(name, tag.slice(word.length, alone ? -1 : undefined).trim());
    if (!alone) open.push(word);
  }
  if (open.length > 0) wrong(`${name} leaves ${open.join(', ')} open`);
}

function attributesHold(name: string, text: string): void {
  ATTRIBUTE.lastIndex = 0;
  const seen = new Set<string>();
  while (ATTRIBUTE.lastIndex < text.length) {
    const [, key = '', value = ''] =
      ATTRIBUTE.exec(text) ?? wrong(`${name} has the attributes ${text.slice(0, 80)}`);
    if (seen.has(key)) wrong(`${name} gives ${key} twice`);
    seen.add(key);
    if (/^on/i.test(key)) wrong(`${name} has the attribute ${key}`);
    if (/href$/i.test(key) && !value.startsWith('#')) wrong(`${name} leads to ${value.slice(0, 60)}`);
    if (
      /NaN|Infinity|undefined/.test(value) &&
      /^(x|y|x1|y1|x2|y2|width|height|d|points|transform|viewBox)$/.test(key)
    )
      wrong(`${name} has ${key}="${value.slice(0, 60)}"`);
  }
}

/** No cell that a spreadsheet would run; rows of one length. */
export function csvHolds(name: string, text: string): void {
  const rows: string[][] = parse(text, { relax_column_count: false });
  for (const row of rows)
    for (const cell of row)
      if (/^[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/.test(cell) && !/^-?\d+(\.\d+)?(e-?\d+)?$/.test(cell))
        wrong(`${name} holds the cell ${JSON.stringify(cell.slice(0, 60))}`);
}

/** Rules that a ring may break though it is laid as it was described: what they ask for is the user's to give. */
export const OF_THE_DESCRIPTION: ReadonlySet<string> = new Set([
  // Too little of what the description has to bring.
  ...['core-fits', 'clamp-missing', 'arc-unfed', 'section-count', 'section-needs'],
  // Sizes and layers that it gives itself, and nets that it puts pins on.
  ...['opening-inset', 'opening-to-seal', 'stem-short', 'signal-net', 'supply-net', 'tie', 'finger-short'],
  // Wishes for the order, which is the description's.
  ...['pins-together', 'pins-apart', 'supply-beside-ground', 'signals-between-grounds'],
  // The package's and the assembly house's limits.
  ...[
    'wires-cross',
    'wire-spacing',
    'wire-near-pad',
    'wire-span',
    'wire-length',
    'wire-angle',
    'wire-current',
  ],
  ...['pin-unbonded', 'opening-too-short', 'finger-too-narrow', 'finger-in-die', 'die-out-of-room'],
  'down-bond-off-paddle',
  'finger-place',
  // Currents and budgets.
  ...['supply-count', 'switching-noise', 'rail-drop', 'rail-current', 'supply-current', 'stem-current'],
  ...['discharge-path', 'discharge-drop', 'core-strip'],
]);

/** The same of a library whose cells do not fit each other. */
export const OF_THE_LIBRARY: ReadonlySet<string> = new Set([
  'rail-open',
  'rail-short',
  'rail-cut',
  'turn-not-allowed',
  'footprint',
]);

/** Errors of rules that the one who lays the ring answers for. */
export function soundlyLaid(placement: Placement, libraryToo = false): void {
  const first = placement.findings.find(
    ({ rule, severity }) =>
      severity === 'error' && !OF_THE_DESCRIPTION.has(rule) && !(libraryToo && OF_THE_LIBRARY.has(rule)),
  );
  if (first) wrong(`a wrong ring: [${first.rule}] ${first.message}`);
}
