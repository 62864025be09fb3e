/**
 * Names as they may stand in a drawing, and how wide they are there. There is no font engine here: the advances
 * are those of DejaVu Sans 2.37, read from its font file and rounded up to a fortieth of an em; it is among the
 * widest of the plain sans-serif faces, and every text is drawn with its `textLength`, so none gets wider.
 */

/** The faces asked for, of nearly the same widths; an x is 0.547 em high in the first, a capital 0.729. */
export const FACES = "'DejaVu Sans', Verdana, sans-serif";
const ASCENT = 0.928;
const DESCENT = 0.236;
/** Height of a line's box over the letter size. */
export const LINE_BOX = ASCENT + DESCENT;
/** Pixels of a millimetre, as CSS has them. */
const PIXELS = 96 / 25.4;
/** The room of a line, in millimetres: browsers round ascent and descent to whole pixels. */
export const lineRoom = (size: number): number =>
  Math.max(
    LINE_BOX * size,
    (Math.round(ASCENT * size * PIXELS) + Math.round(DESCENT * size * PIXELS)) / PIXELS,
  ) + 0.02;
/** From the middle of a line's box down to its base line, over the letter size. */
export const MIDDLE_TO_BASE = (ASCENT - DESCENT) / 2;
/** The smallest letter size on a sheet, in millimetres: an x is 1.2 mm high. */
export const LEAST_SIZE = 2.2;

/** First code point and the advances from there, each a character 40 above the fortieths of an em. */
const ADVANCES: readonly (readonly [number, string])[] = [
  [0x20, '59;JBOH388<J5756BBBBBBBBBB66JJJ>PDDDGB@GG44C?KFHAHDBAFDPDAD868J<<AB>BA7BB44@4OBABB9=8B@I@@=B6BJ'],
  [
    0xa0,
    '59BBBB6<<P;AJ7P<<J99<BB5<9;AOOO>DDDDDDODBBBB4444GFHHHHHJHFFFFAABAAAAAAP>AAAA4444ABAAAAAJABBBB@B@DADADAD>D>D>D>GBGBBABABABABAGBGBGBGBGBMD4444444444@?44C@@?4?4?7?6?4FBFBFBIFBHAHAHASQD9D9D9B=B=B=B=A8A8A8FBFBFBFBFBFBPIA@AD=D=D=7',
  ],
  [
    0x370,
    'C?KB44FBPP<>>>64PPPP<<D5FK9PIPIJ6DD?DBDGH4CDKFBHGAPBAAHDHG4AC>B6@CB@A>>BA6@@B??AAB@BA@C@CJ6@A@JCAADJDCJCHAB@@;CCKBNJGCHADAGADAA>CB>4HAAABDKCBEDE',
  ],
  [0x400, 'BBHADB444TRHEFAGDDDAHBTBFFEGKGHGADAAKDHDSTJLDDTDAA@>DAM>BBABGCACB>@@K@D@MNEH@>JAAAA>>=444MLCAB@C'],
  [0x5d0, 'C@9>C36CB1>>?CD39BBBA>@E?EC'],
  [0x2010, '77B<PP<<5555====<<@@6CP'],
];
const OFFSET = 40;
const FORTIETHS = 40;

/** The table, by code point. */
const KNOWN = new Map(
  ADVANCES.flatMap(([first, table]) =>
    Array.from(table, (letter, at): [number, number] => [
      first + at,
      (letter.charCodeAt(0) - OFFSET) / FORTIETHS,
    ]),
  ),
);

/** Marks that isolate take no room, full-width scripts an em; whatever else is unknown takes an em and a third. */
function advance(point: number): number {
  const known = KNOWN.get(point);
  if (known !== undefined) return known;
  if (point >= 0x2066 && point <= 0x2069) return 0;
  return point >= 0x2e80 && point <= 0xffdc ? 1.02 : 1.34;
}

/** The width of a text in letter sizes: multiplied with the size it is a length. */
export function ems(text: string): number {
  let sum = 0;
  for (const letter of text) sum += advance(letter.codePointAt(0) ?? 0);
  return sum;
}

const PLAIN = /^[ -~]*$/;

/**
 * A text that XML can hold and a reader can trust: control characters become their pictures, and lone
 * surrogates, non-characters and marks that reorder, hide or shift neighbouring text become the sign for an
 * unknown character.
 */
export function clean(text: string): string {
  if (PLAIN.test(text)) return text;
  let out = '';
  for (const letter of text) {
    const point = letter.codePointAt(0) ?? 0;
    if (point < 0x20) out += String.fromCodePoint(0x2400 + point);
    else if (point === 0x7f) out += '\u2421';
    else if (isUnprintable(point)) out += '\ufffd';
    else out += letter;
  }
  return out;
}

function isUnprintable(point: number): boolean {
  return (
    (point >= 0x80 && point <= 0x9f) ||
    point === 0xad ||
    point === 0x61c ||
    (point >= 0x200b && point <= 0x200f) ||
    (point >= 0x2028 && point <= 0x202e) ||
    (point >= 0x2060 && point <= 0x206f) ||
    (point >= 0xd800 && point <= 0xdfff) ||
    point === 0xfeff ||
    (point >= 0xfff0 && point <= 0xfffb) ||
    (point & 0xfffe) === 0xfffe ||
    (point >= 0xe0000 && point <= 0xe0fff)
  );
}

/** Hebrew to Arabic Extended, their presentation forms, and the scripts of the same direction beyond. */
const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;

/** A name inside a sentence: one that is written from right to left is isolated, so that it moves nothing else. */
export function inSentence(name: string): string {
  const shown = clean(name);
  return RIGHT_TO_LEFT.test(shown) ? `\u2068${shown}\u2069` : shown;
}

/** A cleaned text cut to a width in ems, the cut shown by an ellipsis. */
export function shorten(text: string, most: number): string {
  if (ems(text) <= most) return text;
  const room = most - ems('\u2026');
  let [out, width] = ['', 0];
  for (const letter of text) {
    width += ems(letter);
    if (width > room) break;
    out += letter;
  }
  return `${out.trimEnd()}\u2026`;
}

/** A cleaned text in lines of at most a width in ems, broken at blanks where that is possible, else anywhere. */
export function wrap(text: string, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const joined = line === '' ? word : `${line} ${word}`;
    if (ems(joined) <= most) {
      line = joined;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const letter of word) {
      if (line !== '' && ems(line) + ems(letter) > most) {
        lines.push(line);
        line = '';
      }
      line += letter;
    }
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  return lines;
}
