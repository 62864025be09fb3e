/** A walk through a module's tokens: brackets, ranges and parameters, which both ways of declaring ports need. */
import type { Problem } from '../problems/problem.ts';
import { constantOf } from './constant.ts';
import type { Token } from './tokens.ts';

/** No package has as many pins; a wider vector, or more ports altogether, is a slip of the pen. */
export const MOST_PORTS = 65_536;

export interface Range {
  readonly high: number;
  readonly low: number;
}

/** Words that may stand between a port's direction and its range. */
const TYPES: ReadonlySet<string> = new Set(
  'wire tri tri0 tri1 triand trior trireg uwire wand wor supply0 supply1 reg logic bit var signed unsigned'.split(
    ' ',
  ),
);

export interface Cursor {
  /** The token here; undefined behind the last. */
  readonly token: () => Token | undefined;
  /** Its text; empty behind the last, and for an escaped identifier, which is never a keyword or a sign. */
  readonly word: () => string;
  readonly step: () => void;
  readonly skipTypes: () => void;
  /** From an opening bracket to behind its closing one; the tokens between, or null where it stays open. */
  readonly within: (open: string, close: string) => readonly Token[] | null;
  /** A range here, or null; expressions over parameters are worked out. */
  readonly range: () => Range | null;
  /** From the word `parameter` to what ends the list; a value that cannot be worked out stays unknown. */
  readonly parameters: (end: string) => void;
  readonly problem: (code: string, message: string, mend: string, token?: Token) => void;
}

/** `known` holds the parameters so far and grows. */
export function cursorOver(
  tokens: readonly Token[],
  known: Map<string, number>,
  problems: Problem[],
): Cursor {
  let at = 0;
  const wordAt = (index: number): string => {
    const token = tokens[index];
    return token === undefined || token.kind === 'escaped' ? '' : token.text;
  };
  const word = (): string => wordAt(at);
  const problem: Cursor['problem'] = (code, message, mend, token = tokens[at] ?? tokens.at(-1)) => {
    problems.push({ code, message, mend, ...(token ? { place: token.place } : {}) });
  };
  const within: Cursor['within'] = (open, close) => {
    const start = ++at;
    for (let depth = 1; at < tokens.length; at++) {
      if (word() === open) depth++;
      else if (word() === close && --depth === 0) return tokens.slice(start, at++);
    }
    problem('open-bracket', `this ${open} has no ${close}`, `add ${close}`, tokens[start - 1]);
    return null;
  };
  const range: Cursor['range'] = () => {
    if (word() !== '[') return null;
    const opening = tokens[at];
    const inner = within('[', ']');
    if (inner === null) return null;
    const colon = inner.findIndex((t) => t.kind === 'sign' && t.text === ':');
    const first = constantOf(inner.slice(0, Math.max(colon, 0)), known);
    const last = constantOf(inner.slice(colon + 1), known);
    if (first === null || last === null) {
      problem('port-range', 'this range cannot be worked out', 'write both ends as whole numbers', opening);
      return null;
    }
    if (Math.abs(first - last) >= MOST_PORTS) {
      problem('port-range', `this range has more than ${MOST_PORTS} bits`, 'check both ends', opening);
      return null;
    }
    if (word() === '[') {
      problem('port-range', 'a port with two ranges is not taken apart', 'list it as vectors of one range');
      while (word() === '[') within('[', ']');
    }
    return { high: Math.max(first, last), low: Math.min(first, last) };
  };
  const parameters: Cursor['parameters'] = (end) => {
    for (at++; at < tokens.length && word() !== end; at++) {
      const name = tokens[at];
      if (name === undefined || wordAt(at + 1) !== '=') continue;
      const start = at + 2;
      let depth = 0;
      for (at = start; at < tokens.length; at++) {
        if (depth === 0 && (word() === ',' || word() === end)) break;
        if (['(', '[', '{'].includes(word())) depth++;
        if ([')', ']', '}'].includes(word())) depth--;
      }
      const value = constantOf(tokens.slice(start, at), known);
      if (value !== null) known.set(name.text, value);
      if (word() === end) return;
    }
  };
  return {
    token: () => tokens[at],
    word,
    step: () => {
      at++;
    },
    skipTypes: () => {
      while (TYPES.has(word())) at++;
    },
    within,
    range,
    parameters,
    problem,
  };
}
