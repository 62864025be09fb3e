/**
 * A quick yes or no to whether a value fits a zod schema, made from the schema itself. zod also copies the value and
 * gathers reasons; a placement of ten thousand cells is read faster when it is asked only where the answer is no.
 */
import { z } from 'zod';

export type Accepts = (value: unknown) => boolean;

/** The acceptor of a schema: true just where zod's own parse would succeed. */
export function acceptorOf(schema: z.core.$ZodType): Accepts {
  const own = simple(schema) ?? compound(schema);
  return own ?? ((value) => z.safeParse(schema, value).success);
}

/** Schemas of single values. */
function simple(schema: z.core.$ZodType): Accepts | undefined {
  if (schema instanceof z.core.$ZodString) {
    const bounds = lengthBounds(schema._zod.def.checks ?? []);
    if (bounds === undefined || 'format' in schema._zod.def) return undefined;
    const [least, most] = bounds;
    return (value) => typeof value === 'string' && value.length >= least && value.length <= most;
  }
  if (schema instanceof z.core.$ZodNumber) return numberAcceptor(schema);
  if (schema instanceof z.core.$ZodBoolean) return (value) => typeof value === 'boolean';
  if (schema instanceof z.core.$ZodLiteral) return oneOf(schema._zod.def.values);
  if (schema instanceof z.core.$ZodEnum) return oneOf(Object.values(schema._zod.def.entries));
  return undefined;
}

function oneOf(values: readonly unknown[]): Accepts {
  const [a, b] = values;
  if (values.length === 1) return (value) => value === a;
  if (values.length === 2) return (value) => value === a || value === b;
  const set = new Set(values);
  return (value) => set.has(value);
}

type Check = z.core.$ZodCheck<never>;

/** The least and greatest length that a string's checks allow; undefined where there is a check of another kind. */
function lengthBounds(checks: readonly Check[]): readonly [number, number] | undefined {
  let [least, most] = [0, Infinity];
  for (const check of checks) {
    if (check instanceof z.core.$ZodCheckMinLength) least = Math.max(least, check._zod.def.minimum);
    else if (check instanceof z.core.$ZodCheckMaxLength) most = Math.min(most, check._zod.def.maximum);
    else return undefined;
  }
  return [least, most];
}

function numberAcceptor(schema: z.core.$ZodNumber): Accepts | undefined {
  const { def } = schema._zod;
  let whole = false;
  if (schema instanceof z.core.$ZodNumberFormat) {
    if (schema._zod.def.format !== 'safeint') return undefined;
    whole = true;
  }
  let [above, below] = [-Infinity, Infinity];
  let [least, most] = [-Infinity, Infinity];
  for (const check of def.checks ?? []) {
    if (check instanceof z.core.$ZodCheckGreaterThan) {
      const { value, inclusive } = check._zod.def;
      if (inclusive) least = Math.max(least, Number(value));
      else above = Math.max(above, Number(value));
    } else if (check instanceof z.core.$ZodCheckLessThan) {
      const { value, inclusive } = check._zod.def;
      if (inclusive) most = Math.min(most, Number(value));
      else below = Math.min(below, Number(value));
    } else if (!(check instanceof z.core.$ZodCheckNumberFormat)) return undefined;
    else if (check._zod.def.format !== 'safeint') return undefined;
    else whole = true;
  }
  if (!whole && most === Infinity && below === Infinity) {
    // What nearly every field is, with no more than it takes.
    if (above === -Infinity && least === -Infinity) return (value) => Number.isFinite(value);
    if (above === -Infinity) return (value) => typeof value === 'number' && value >= least && value < below;
    if (least === -Infinity) return (value) => typeof value === 'number' && value > above && value < below;
  }
  return (value) =>
    typeof value === 'number' &&
    value >= least &&
    value <= most &&
    value > above &&
    value < below &&
    (!whole || Number.isSafeInteger(value));
}

/** Schemas made of others. */
function compound(schema: z.core.$ZodType): Accepts | undefined {
  if (schema instanceof z.core.$ZodArray) {
    if ((schema._zod.def.checks ?? []).length > 0) return undefined;
    const item = acceptorOf(schema._zod.def.element);
    return (value) => {
      if (!Array.isArray(value)) return false;
      for (let i = 0; i < value.length; i++) if (!item(value[i])) return false;
      return true;
    };
  }
  if (schema instanceof z.core.$ZodNullable) {
    const inner = acceptorOf(schema._zod.def.innerType);
    return (value) => value === null || inner(value);
  }
  if (schema instanceof z.core.$ZodOptional) {
    const inner = acceptorOf(schema._zod.def.innerType);
    return (value) => value === undefined || inner(value);
  }
  if (schema instanceof z.core.$ZodUnion) {
    const options = schema._zod.def.options.map(acceptorOf);
    return (value) => options.some((option) => option(value));
  }
  if (schema instanceof z.core.$ZodTuple) {
    if (schema._zod.def.rest !== null) return undefined;
    const items = schema._zod.def.items.map(acceptorOf);
    return (value) =>
      Array.isArray(value) && value.length === items.length && items.every((item, i) => item(value[i]));
  }
  if (schema instanceof z.core.$ZodObject) return objectAcceptor(schema);
  return undefined;
}

function objectAcceptor(schema: z.core.$ZodObject): Accepts | undefined {
  if (schema._zod.def.catchall !== undefined || (schema._zod.def.checks ?? []).length > 0) return undefined;
  const keys = Object.keys(schema._zod.def.shape);
  const inner = Object.values(schema._zod.def.shape).map(acceptorOf);
  return (value) => {
    if (!isRecord(value)) return false;
    for (let i = 0; i < keys.length; i++) {
      const key = keys[i];
      const accepts = inner[i];
      if (key !== undefined && accepts !== undefined && !accepts(value[key])) return false;
    }
    return true;
  };
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
