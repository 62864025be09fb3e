/**
 * Inputs made from real ones: numbers and words exchanged, lines and pieces moved, doubled and taken out, two files
 * spliced, bytes flipped, awkward words and signs put in, brackets nested. Texts are handled as one sign a byte, so that
 * invalid UTF-8 comes out as well.
 */
import type { Dice } from './dice.ts';

const bytes = (text: string): string => Buffer.from(text, 'utf8').toString('latin1');

const NUMBERS = [
  ...[
    '0',
    '-0',
    '-1',
    '1',
    '2',
    '3',
    '7',
    '0.001',
    '0.0005',
    '1e-7',
    '0.0000001',
    '1e308',
    '-1e308',
    '1e999',
  ],
  ...['NaN', '.nan', '.inf', '-.inf', 'Infinity', '9007199254740993', '999999999999999999999', '1000000'],
  ...['999999.999999', '1000000.1', '0x10', '0o17', '1_000', '1,5', '+5', '.5', '5.', '007', '1e3', '5e-324'],
  ...['٣', '１２', '½', '100', '10000', '400000', '0.1', '33.333333', '1e6', '-0.5'],
].map(bytes);

const WORDS = [
  ...[
    '__proto__',
    'constructor',
    'prototype',
    'toString',
    'hasOwnProperty',
    'null',
    '~',
    'true',
    'no',
    'undefined',
  ],
  ...[
    '&a ',
    '*a',
    '<<: *a',
    '<<',
    '!!binary ',
    '!!js/function ',
    '!x ',
    '%YAML 1.1\n',
    '---\n',
    '...\n',
    '|\n',
    '>-\n',
    '? ',
  ],
  ...[
    '[',
    ']',
    '{',
    '}',
    '[]',
    '{}',
    ': ',
    '- ',
    ', ',
    '#',
    '"',
    "'",
    '`',
    '\\',
    '"\\ud800"',
    '"\\u0000"',
    '"\\x1b[2J"',
  ],
  ...[
    '\n',
    '\r\n',
    '\r',
    '\t',
    '\0',
    '\u0007',
    '\u001b',
    '\u007f',
    '\u0085',
    '\u2028',
    '\u202e',
    '\u200b',
    '\ufeff',
    '\ufffe',
  ],
  ...[
    '<script>alert(1)</script>',
    '</svg>',
    ']]>',
    '<!--',
    '&amp;',
    '&#0;',
    '<a href="javascript:1">',
    '{{7*7}}',
    '%s%n',
  ],
  ...[
    '=1+1',
    '=cmd|x!A1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '"=1"',
    "'=1",
    'ß',
    'Ω',
    '引脚',
    'מלח',
    '🦀',
    'e\u0301',
    'İ',
  ],
  ...[
    'none',
    'main',
    'corner',
    'fit',
    'auto',
    'inline',
    'staggered',
    'over-circuit',
    'in-cell',
    'toward-fingers',
    'shared',
  ],
  ...[
    'outer',
    'inner',
    'left',
    'top',
    'error',
    'note',
    'filler',
    'break',
    'supply',
    'clamp',
    'signal',
    'control',
    'macro',
  ],
  ...[
    'END',
    'MACRO',
    'PIN',
    'PORT',
    'OBS',
    'LAYER',
    'RECT 0 0 1 1 ;',
    ';',
    'SIZE 1 BY 1 ;',
    'CLASS PAD SPACER ;',
    'BY',
    'ITERATE',
  ],
  ...[
    'SYMMETRY X ;',
    'ORIGIN 5 5 ;',
    'USE POWER ;',
    'FOREIGN x ;',
    'DATABASE MICRONS 2000 ;',
    'sep=;',
    '../ring.yaml',
    '/',
    '.',
  ],
].map(bytes);

/** Bytes that no UTF-8 text has: a lone continuation, a cut sequence, an overlong slash, a surrogate, too high a point. */
const INVALID = ['\x80', '\xc3', '\xe2\x82', '\xc0\xaf', '\xed\xa0\x80', '\xf5\x80\x80\x80', '\xff\xfe'];

type Change = (text: string, dice: Dice, other: string) => string;

const spot = (text: string, dice: Dice): number => dice.below(text.length + 1);
const cutOut = (text: string, from: number, length: number, put = ''): string =>
  text.slice(0, from) + put + text.slice(from + length);

/** The n-th match, or none. */
function pick(text: string, pattern: RegExp, dice: Dice): { at: number; word: string } | undefined {
  // From a random place on: listing every match of a long text would be most of the work.
  const re = new RegExp(pattern.source, 'g');
  re.lastIndex = spot(text, dice);
  const found = re.exec(text) ?? re.exec(text);
  return found === null ? undefined : { at: found.index, word: found[0] };
}

const number: Change = (text, dice) => {
  const one = pick(text, /-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/, dice);
  if (one === undefined) return text;
  const value = Number(one.word);
  const near = [
    value * 2,
    value / 2,
    value + 1,
    value - 1,
    value * 10,
    value / 10,
    -value,
    value + 0.001,
    value + 0.5,
  ];
  const other = pick(text, /\d+(?:\.\d+)?/, dice)?.word ?? '0';
  const way = dice.below(5);
  const put = way < 2 ? dice.of(NUMBERS) : way < 4 ? String(dice.of(near)) : other;
  return cutOut(text, one.at, one.word.length, put);
};

const word: Change = (text, dice) => {
  const one = pick(text, /[A-Za-z_][\w-]*/, dice);
  if (one === undefined) return text;
  const put = dice.once(3) ? dice.of(WORDS) : pick(text, /[A-Za-z_][\w-]*/, dice)?.word;
  return cutOut(text, one.at, one.word.length, put);
};

/** Start and end of a random line, its line feed included. */
function line(text: string, dice: Dice): { from: number; to: number } {
  const at = spot(text, dice);
  const from = text.lastIndexOf('\n', at - 1) + 1;
  const end = text.indexOf('\n', at);
  return { from, to: end < 0 ? text.length : end + 1 };
}

const lines: Change = (text, dice) => {
  const [a, b] = [line(text, dice), line(text, dice)];
  const taken = text.slice(a.from, a.to);
  const way = dice.below(5);
  if (way === 0) return cutOut(text, a.from, a.to - a.from);
  if (way === 1) return cutOut(text, a.from, 0, taken);
  if (way === 2) return cutOut(text, b.from, 0, taken);
  if (way === 3) return cutOut(text, a.from, 0, ' '.repeat(dice.below(5) + 1));
  return cutOut(text, a.from, taken.startsWith(' ') ? 1 : 0);
};

const piece: Change = (text, dice) => {
  const [from, to] = [spot(text, dice), spot(text, dice)];
  const length = dice.below(dice.once(4) ? 2000 : 60);
  const way = dice.below(4);
  if (way === 0) return cutOut(text, from, length);
  if (way === 1) return cutOut(text, from, 0, text.slice(from, from + length));
  if (way === 2) return cutOut(text, to, 0, text.slice(from, from + length));
  const [a, b] = [Math.min(from, to), Math.max(from, to)];
  const [first, second] = [text.slice(a, a + length), text.slice(b, b + length)];
  return a + length > b
    ? text
    : text.slice(0, a) + second + text.slice(a + length, b) + first + text.slice(b + length);
};

const flip: Change = (text, dice) => {
  const at = dice.below(Math.max(1, text.length));
  const code = (text.charCodeAt(at) || 0) ^ (1 << dice.below(8));
  return cutOut(text, at, 1, String.fromCharCode(code & 255));
};

const put: Change = (text, dice) => cutOut(text, spot(text, dice), dice.below(4), dice.of(WORDS));
const invalid: Change = (text, dice) => cutOut(text, spot(text, dice), 0, dice.of(INVALID));
const truncate: Change = (text, dice) => text.slice(0, spot(text, dice));
const doubled: Change = (text, dice) => (text.length < 200_000 ? text + text.slice(spot(text, dice)) : text);
const splice: Change = (text, dice, other) =>
  dice.once(2)
    ? text.slice(0, spot(text, dice)) + other.slice(spot(other, dice))
    : cutOut(text, spot(text, dice), 0, other.slice(spot(other, dice)).slice(0, dice.below(400)));
const marked: Change = (text, dice) => (dice.once(2) ? `\xef\xbb\xbf${text}` : text.replaceAll('\n', '\r\n'));

const NESTS = ['[', '{a: ', '- ', '(', '{"a":', '[[', '"', '<<: {', '? ', '&a [', 'MACRO a\n', '/*', "'"];
const nest: Change = (text, dice) => {
  const deep = dice.below(dice.once(4) ? 5000 : 80);
  return cutOut(text, spot(text, dice), 0, (dice.of(NESTS) ?? '[').repeat(deep));
};

/** How often each change comes, in shares; those that leave a text readable come most often. */
const CHANGES: readonly (readonly [number, Change])[] = [
  [34, number],
  [22, word],
  [12, lines],
  [8, piece],
  [4, flip],
  [8, put],
  [1, invalid],
  [2, truncate],
  [1, doubled],
  [3, splice],
  [2, marked],
  [3, nest],
];
const change = (dice: Dice): Change => dice.shared(CHANGES, ([share]) => share)?.[1] ?? number;

/** A text with one to a few changes; seldom nothing but noise. */
export function mutated(text: string, other: string, dice: Dice): Buffer {
  if (dice.once(100)) return noise(dice);
  let now = bytes(text);
  const second = bytes(other);
  do now = change(dice)(now, dice, second);
  while (!dice.once(2));
  return Buffer.from(now, 'latin1');
}

function noise(dice: Dice): Buffer {
  const length = dice.below(dice.once(4) ? 5000 : 40);
  const printable = dice.once(2);
  return Buffer.from(Array.from({ length }, () => (printable ? 32 + dice.below(95) : dice.below(256))));
}
