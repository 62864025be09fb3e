/** Small helps for messages and places. */
import type { Hit } from './finding.ts';
import type { Box } from './turn.ts';

/** Units as micrometres for a reader. */
export const um = (units: number): string => `${units / 1_000_000} um`;

/** A list of words, the first few of many. */
export const few = (list: readonly string[]): string =>
  list.length <= 6 ? list.join(', ') : `${list.slice(0, 6).join(', ')} and ${list.length - 6} more`;

/** A list of names, quoted, the first few of many. */
export function names(list: readonly string[]): string {
  const shown = list.slice(0, 8).map((name) => `"${name}"`);
  if (list.length > 8) shown.push(`${list.length - 8} more`);
  return shown.join(', ');
}

/** A message as one readable line: signs that cannot be seen, or that turn the line around, are written out. */
export const readable = (message: string): string =>
  message.replace(
    /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}\p{Default_Ignorable_Code_Point}\u2800]/gu,
    (sign) => `\\u{${sign.codePointAt(0)?.toString(16)}}`,
  );

const middle = (b: Box): { readonly x: number; readonly y: number } => ({
  x: (b.x0 + b.x1) / 2,
  y: (b.y0 + b.y1) / 2,
});

/** A hit at the middle of a shape. */
export const hitAt = (box: Box, message: string, ...items: readonly string[]): Hit => ({
  message,
  items,
  at: middle(box),
});

/** A hit between two shapes. */
export const hitBetween = (a: Box, b: Box, message: string, ...items: readonly string[]): Hit => {
  const [p, q] = [middle(a), middle(b)];
  return { message, items, at: { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 } };
};

/** A hit that is nowhere in particular. */
export const hit = (message: string, ...items: readonly string[]): Hit => ({ message, items });
