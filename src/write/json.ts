/** The placement file's text: keys in the schema's order, one line a cell or pad, the same bytes everywhere. */
import { z } from 'zod';
import { type Placement, placementSchema } from '../format/placement.ts';

/**
 * The order of an object's keys with what stands below each, or that of a list's members. Null: as it is, which
 * is right for plain values and for records of them, whose order is the user's own.
 */
type Order =
  | { readonly keys: readonly (readonly [string, Order])[] }
  | { readonly members: Order }
  | { readonly choices: readonly Order[] }
  | null;

function orderOf(schema: unknown): Order {
  if (schema instanceof z.ZodObject)
    return { keys: Object.entries(schema.shape).map(([key, below]) => [key, orderOf(below)] as const) };
  if (schema instanceof z.ZodArray) {
    const members = orderOf(schema.element);
    return members === null ? null : { members };
  }
  if (schema instanceof z.ZodRecord && schema.keyType instanceof z.ZodEnum)
    return { keys: schema.keyType.options.map((key) => [String(key), null] as const) };
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodNullable) return orderOf(schema.unwrap());
  if (schema instanceof z.ZodUnion) return { choices: schema.options.map(orderOf) };
  return null;
}

type Fields = Readonly<Record<string, unknown>>;

function ordered(value: unknown, order: Order): unknown {
  if (order === null || value === null || typeof value !== 'object') return value;
  if ('members' in order)
    return Array.isArray(value) ? value.map((item) => ordered(item, order.members)) : value;
  const fields = value as Fields;
  const chosen = 'choices' in order ? order.choices.find((choice) => holds(choice, fields)) : order;
  if (!chosen || !('keys' in chosen)) return value;
  const out: Record<string, unknown> = {};
  for (const [key, below] of chosen.keys) {
    const item = fields[key];
    if (item !== undefined) out[key] = ordered(item, below);
  }
  return out;
}

/** Whether a choice of a union knows every key of an object. */
const holds = (choice: Order, fields: Fields): boolean =>
  choice !== null &&
  'keys' in choice &&
  Object.keys(fields).every((key) => choice.keys.some(([known]) => known === key));

let known: Order = null;

/** Lists of objects get a line for each; everything else of the top level stands on one. */
function lines(value: unknown): string {
  if (!Array.isArray(value) || value.length === 0 || typeof value[0] !== 'object')
    return JSON.stringify(value);
  return `[\n${value.map((item) => JSON.stringify(item)).join(',\n')}\n]`;
}

/** The placement as the text of `placement.json`, ending in a line feed. */
export function placementJson(placement: Placement): string {
  known ??= orderOf(placementSchema);
  const fields = Object.entries(ordered(placement, known) as object);
  return `{\n${fields.map(([key, value]) => `${JSON.stringify(key)}: ${lines(value)}`).join(',\n')}\n}\n`;
}
