/** Constant whole-number expressions as ranges have them: numbers, parameters, + - * / % and parentheses. */
import type { Token } from './tokens.ts';

/** Nobody writes a longer one, and nesting stays shallow. */
const LONGEST = 200;

/** The value, or null where it is none that can be worked out. */
export function constantOf(tokens: readonly Token[], parameters: ReadonlyMap<string, number>): number | null {
  if (tokens.length === 0 || tokens.length > LONGEST) return null;
  let at = 0;
  const sign = (): string => (tokens[at]?.kind === 'sign' ? (tokens[at]?.text ?? '') : '');
  const atom = (): number => {
    const token = tokens[at++];
    if (token === undefined) return Number.NaN;
    if (token.kind === 'number') return numberOf(token.text);
    if (token.kind === 'name' || token.kind === 'escaped') return parameters.get(token.text) ?? Number.NaN;
    if (token.text === '-') return -atom();
    if (token.text === '+') return atom();
    if (token.text !== '(') return Number.NaN;
    const value = sum();
    if (sign() !== ')') return Number.NaN;
    at++;
    return value;
  };
  const product = (): number => {
    let value = atom();
    while (['*', '/', '%'].includes(sign())) {
      const operator = tokens[at++]?.text;
      const other = atom();
      value = operator === '*' ? value * other : operator === '/' ? Math.trunc(value / other) : value % other;
    }
    return value;
  };
  const sum = (): number => {
    let value = product();
    while (['+', '-'].includes(sign())) value += tokens[at++]?.text === '+' ? product() : -product();
    return value;
  };
  const value = sum();
  return at === tokens.length && Number.isSafeInteger(value) ? value : null;
}

/** `12`, `8'd12` or `'hc`. */
function numberOf(text: string): number {
  const [digits = '', based] = text.replaceAll(/[_\s]/gu, '').split("'");
  if (based === undefined) return Number(digits);
  const plain = based.replace(/^s/iu, '');
  const base = { b: 2, o: 8, d: 10, h: 16 }[plain.slice(0, 1).toLowerCase()] ?? 0;
  const value = Number.parseInt(plain.slice(1), base);
  return value.toString(base) ===
    plain
      .slice(1)
      .toLowerCase()
      .replace(/^0+(?=.)/u, '')
    ? value
    : Number.NaN;
}
