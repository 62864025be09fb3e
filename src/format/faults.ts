/**
 * What a value has against it that a schema refuses, as zod's issues, up to a number of them. zod itself gathers all: of
 * a list of a million wrong entries that is more than a machine holds. Lists and objects are therefore gone through entry
 * by entry, and only what the acceptor refuses is given to zod.
 */
import { z } from 'zod';
import { type Accepts, acceptorOf } from './accept.ts';

export interface Faults {
  readonly issues: readonly z.core.$ZodIssue[];
  /** Entries that were left unlooked at once there were enough issues, each with one at the least. */
  readonly more: number;
}

export function faultsOf(schema: z.core.$ZodType, value: unknown, most: number): Faults {
  const acceptors = new Map<z.core.$ZodType, Accepts>();
  const accepts = (one: z.core.$ZodType, inner: unknown): boolean => {
    let known = acceptors.get(one);
    if (known === undefined) {
      known = acceptorOf(one);
      acceptors.set(one, known);
    }
    return known(inner);
  };
  const issues: z.core.$ZodIssue[] = [];
  let more = 0;
  const look = (one: z.core.$ZodType, inner: unknown, path: readonly PropertyKey[]): void => {
    if (accepts(one, inner)) return;
    if (issues.length >= most) {
      more++;
      return;
    }
    const bare = unwrapped(one);
    if (bare instanceof z.core.$ZodArray && Array.isArray(inner)) {
      const { element } = bare._zod.def;
      const before = issues.length + more;
      inner.forEach((entry: unknown, i) => {
        look(element, entry, [...path, i]);
      });
      if (issues.length + more > before) return;
    }
    if (bare instanceof z.core.$ZodObject && isObject(inner)) {
      const before = issues.length + more;
      for (const [key, field] of Object.entries(bare._zod.def.shape))
        look(field, Object.hasOwn(inner, key) ? Reflect.get(inner, key) : undefined, [...path, key]);
      if (issues.length + more > before) return;
    }
    const parsed = z.safeParse(one, inner, { reportInput: true });
    for (const issue of parsed.error?.issues ?? [])
      if (issues.length < most) issues.push({ ...issue, path: [...path, ...issue.path] });
      else more++;
  };
  look(schema, value, []);
  return { issues, more };
}

const isObject = (value: unknown): value is object =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The schema within what lets a value be null or left out. */
function unwrapped(schema: z.core.$ZodType): z.core.$ZodType {
  if (schema instanceof z.core.$ZodNullable || schema instanceof z.core.$ZodOptional)
    return unwrapped(schema._zod.def.innerType);
  return schema;
}
