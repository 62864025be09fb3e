/** The words of a Verilog text (IEEE 1364-2001, clause 2) with their places; comments and attributes fall away. */
import type { Place, Problem } from '../problems/problem.ts';

export interface Token {
  /** `name` bears an identifier, without the backslash and the blank of an escaped one. */
  readonly kind: 'name' | 'escaped' | 'number' | 'sign';
  readonly text: string;
  readonly place: Place;
}

const BLANK = /\s+/uy;
const LINE_COMMENT = /\/\/[^\n]*/uy;
const ATTRIBUTE_START = /\(\*(?!\s*\))/uy;
const TEXT = /"(?:[^"\\\n]|\\[\s\S])*"/uy;
const NAME = /[A-Za-z_$][A-Za-z0-9_$]*/uy;
const ESCAPED = /\\[!-~]+/uy;
const NUMBER = /\d[\d_]*(?:\s*'[sS]?[bBoOdDhH]\s*[0-9a-fA-F_xXzZ?]+)?|'[sS]?[bBoOdDhH]\s*[0-9a-fA-F_]+/uy;
/** A directive takes its line, and the next where the line ends with a backslash. */
const DIRECTIVE = /`(?<word>[A-Za-z_]\w*)(?:\\\r?\n|[^\n])*/uy;
const CONDITIONAL = new Set(['ifdef', 'ifndef', 'elsif', 'else', 'endif']);

export interface Tokens {
  readonly tokens: readonly Token[];
  /** Where the text can be read in two ways: directives that decide what stands in it. */
  readonly conditionals: readonly Place[];
  readonly problems: readonly Problem[];
}

export function tokensOf(text: string, file: string): Tokens {
  const tokens: Token[] = [];
  const conditionals: Place[] = [];
  const problems: Problem[] = [];
  const places = placesIn(text, file);
  let at = 0;
  let attributes = true;
  const match = (pattern: RegExp): RegExpExecArray | null => {
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (found) at += found[0].length;
    return found;
  };
  while (at < text.length) {
    if (match(BLANK) || match(LINE_COMMENT)) continue;
    const place = places(at);
    if (text.startsWith('/*', at)) {
      const end = text.indexOf('*/', at + 2);
      if (end < 0) {
        problems.push({ code: 'open-comment', message: 'this comment has no end', mend: 'add */', place });
        break;
      }
      at = end + 2;
      continue;
    }
    if (attributes && match(ATTRIBUTE_START)) {
      const end = text.indexOf('*)', at);
      attributes = end >= 0;
      if (attributes) at = end + 2;
      continue;
    }
    if (match(TEXT)) continue;
    const directive = match(DIRECTIVE);
    if (directive) {
      if (CONDITIONAL.has(directive.groups?.word ?? '')) conditionals.push(place);
      continue;
    }
    const escaped = match(ESCAPED);
    if (escaped) {
      tokens.push({ kind: 'escaped', text: escaped[0].slice(1), place });
      continue;
    }
    const name = match(NAME);
    if (name) {
      tokens.push({ kind: 'name', text: name[0], place });
      continue;
    }
    const number = match(NUMBER);
    if (number) {
      tokens.push({ kind: 'number', text: number[0], place });
      continue;
    }
    tokens.push({ kind: 'sign', text: String.fromCodePoint(text.codePointAt(at) ?? 0), place });
    at += tokens.at(-1)?.text.length ?? 1;
  }
  return { tokens, conditionals, problems };
}

/** Line and column of ever later offsets, counted from 1. */
export function placesIn(text: string, file: string): (offset: number) => Place {
  let [line, start, end] = [1, 0, text.indexOf('\n')];
  return (offset) => {
    for (; end >= 0 && end < offset; end = text.indexOf('\n', start)) {
      line++;
      start = end + 1;
    }
    return { file, line, column: offset - start + 1 };
  };
}
