/** Small helps for messages and places. */
import type { Hit } from './finding.ts';
import type { Box } from './turn.ts';

/** Units as micrometres for a reader. */
export const um = (units: number): string => `${units / 1_000_000} um`;

/** A list of names, quoted, the first few of many. */
export function names(list: readonly string[]): string {
  const shown = list.slice(0, 8).map((name) => `"${name}"`);
  if (list.length > 8) shown.push(`${list.length - 8} more`);
  return shown.join(', ');
}

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
