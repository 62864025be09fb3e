/** The ports of a module from its header, and from the declarations behind it where the header only lists names. */
import type { Place, Problem } from '../problems/problem.ts';
import { type Cursor, cursorOver, MOST_PORTS, type Range } from './cursor.ts';
import type { Token } from './tokens.ts';

export type Direction = 'input' | 'output' | 'inout';

export interface Port {
  /** A bit of a vector as `name[3]`. */
  readonly name: string;
  /** null in a plain list of names. */
  readonly direction: Direction | null;
  readonly place: Place;
}

const DIRECTIONS: readonly Direction[] = ['input', 'output', 'inout'];
const directionOf = (word: string): Direction | undefined =>
  DIRECTIONS.find((direction) => direction === word);

/** A name as it stands, with what was declared for it. */
interface Declared {
  readonly token: Token;
  readonly direction: Direction | null;
  readonly range: Range | null;
}

const isName = (token: Token | undefined): token is Token =>
  token?.kind === 'name' || token?.kind === 'escaped';

/** Reads one module whose tokens start with its name; what cannot be read goes to the problems. */
export function modulePorts(tokens: readonly Token[], problems: Problem[]): readonly Port[] {
  const known = new Map<string, number>();
  const cursor = cursorOver(tokens, known, problems);
  cursor.step();
  if (cursor.word() === '#') {
    cursor.step();
    const list = cursor.within('(', ')');
    if (list === null) return [];
    const inner = cursorOver(list, known, problems);
    while (inner.token() !== undefined) inner.parameters('');
  }
  if (cursor.word() === ';') return [];
  if (cursor.word() !== '(') {
    cursor.problem('module-header', 'the module has no list of ports', 'it starts with ( behind the name');
    return [];
  }
  const header = cursor.within('(', ')');
  if (header === null) return [];
  const declared = header.some((token) => token.kind === 'name' && directionOf(token.text))
    ? declaredInHeader(cursorOver(header, known, problems))
    : declaredBehind(header, cursor);
  const total = declared.reduce((sum, { range }) => sum + (range ? range.high - range.low + 1 : 1), 0);
  if (total > MOST_PORTS) {
    const message = `the module has more than ${MOST_PORTS} ports`;
    cursor.problem('port-range', message, 'check the ranges', declared[0]?.token);
    return [];
  }
  return declared.flatMap(bits);
}

function bits({ token, direction, range }: Declared): readonly Port[] {
  const { text, place } = token;
  if (range === null) return [{ name: text, direction, place }];
  return Array.from({ length: range.high - range.low + 1 }, (_, i) => ({
    name: `${text}[${range.high - i}]`,
    direction,
    place,
  }));
}

/** `input [3:0] a, b, output c`: direction and range hold until the next ones. */
function declaredInHeader(cursor: Cursor): readonly Declared[] {
  const list: Declared[] = [];
  let [direction, range]: [Direction | null, Range | null] = [null, null];
  for (let token = cursor.token(); token !== undefined; token = cursor.token()) {
    const named = token.kind === 'name' ? directionOf(token.text) : undefined;
    if (named !== undefined) {
      cursor.step();
      cursor.skipTypes();
      [direction, range] = [named, cursor.range()];
      continue;
    }
    if (token.kind !== 'name' && token.kind !== 'escaped') {
      cursor.problem('module-header', `"${token.text}" has no place in a list of ports`, 'check the line');
      return list;
    }
    list.push({ token, direction, range });
    cursor.step();
    if (cursor.word() === '[') {
      const mend = 'list it as vectors of one range';
      cursor.problem('port-range', 'a port that is an array is not taken apart', mend);
      while (cursor.word() === '[') cursor.within('[', ']');
    }
    if (cursor.word() === '=') while (cursor.token() !== undefined && cursor.word() !== ',') cursor.step();
    if (cursor.token() !== undefined && cursor.word() !== ',') {
      const message = `port ${token.text} is followed by neither a comma nor the end`;
      cursor.problem('module-header', message, 'types other than those of Verilog are not known here');
      return list;
    }
    cursor.step();
  }
  return list;
}

/** The header lists names only; `input [3:0] a, b;` stands behind it, outside functions and tasks. */
function declaredBehind(header: readonly Token[], cursor: Cursor): readonly Declared[] {
  const odd = header.find((token) => token.kind !== 'name' && token.kind !== 'escaped' && token.text !== ',');
  if (odd) {
    cursor.problem(
      'module-header',
      'a port that is an expression is not taken apart',
      'list plain names',
      odd,
    );
    return [];
  }
  const declarations = new Map<string, { direction: Direction; range: Range | null }>();
  while (cursor.token() !== undefined) {
    const word = cursor.word();
    const direction = directionOf(word);
    if (word === 'function' || word === 'task')
      while (cursor.token() !== undefined && cursor.word() !== `end${word}`) cursor.step();
    else if (word === 'parameter' || word === 'localparam') cursor.parameters(';');
    else if (direction !== undefined) {
      cursor.step();
      cursor.skipTypes();
      const range = cursor.range();
      for (; cursor.token() !== undefined && cursor.word() !== ';'; cursor.step()) {
        const token = cursor.token();
        if (isName(token)) declarations.set(token.text, { direction, range });
      }
    }
    cursor.step();
  }
  return header.filter(isName).map((token) => {
    const declared = declarations.get(token.text);
    if (declared) return { token, ...declared };
    const message = `port ${token.text} has no direction`;
    cursor.problem('undeclared-port', message, 'declare it input, output or inout', token);
    return { token, direction: null, range: null };
  });
}
