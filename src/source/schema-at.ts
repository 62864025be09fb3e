/** Walking a zod schema along a path of the data, to say which keys and what kind of value belong there. */
import type { z } from 'zod';
import { type Path, valueAt } from './source.ts';

type Schema = z.core.$ZodType;

export interface Meant {
  readonly schema: Schema;
  /** The schema's description, or that of the nearest wrapper that has one. */
  readonly meaning: string | undefined;
}

/** The schemas that a value at a path could be meant for, wrappers taken off. */
export function schemasAt(schema: Schema, data: unknown, path: Path): readonly Meant[] {
  let here = bare(schema, data);
  path.forEach((step, i) => {
    const inside = valueAt(data, path.slice(0, i + 1));
    here = here.flatMap((one) => stepInto(one.schema, step).flatMap((next) => bare(next, inside)));
  });
  return here;
}

/** The keys that an object at a path may have; none where the schema allows any. */
export function knownKeys(schema: Schema, data: unknown, path: Path): readonly string[] {
  const keys = new Set<string>();
  for (const one of schemasAt(schema, data, path)) {
    const { def } = (one.schema as z.core.$ZodTypes)._zod;
    if (def.type === 'object') for (const key of Object.keys(def.shape)) keys.add(key);
    if (def.type === 'record') for (const key of def.keyType._zod.values ?? []) keys.add(String(key));
  }
  return [...keys];
}

function stepInto(schema: Schema, step: string | number): readonly Schema[] {
  const { def } = (schema as z.core.$ZodTypes)._zod;
  switch (def.type) {
    case 'object': {
      const inside = Object.hasOwn(def.shape, step) ? def.shape[step] : def.catchall;
      return inside ? [inside] : [];
    }
    case 'record':
      return [def.valueType as Schema];
    case 'array':
      return [def.element as Schema];
    case 'tuple': {
      const inside = def.items[Number(step)] ?? def.rest;
      return inside ? [inside] : [];
    }
    default:
      return [];
  }
}

/** A schema without the wrappers that do not change which input it takes; a union as its members. */
function bare(schema: Schema, value: unknown, meaning?: string): readonly Meant[] {
  const { def } = (schema as z.core.$ZodTypes)._zod;
  const said =
    meaning ??
    ('description' in schema && typeof schema.description === 'string' ? schema.description : undefined);
  switch (def.type) {
    case 'optional':
    case 'nullable':
    case 'default':
    case 'prefault':
    case 'nonoptional':
    case 'catch':
    case 'readonly':
      return bare(def.innerType as Schema, value, said);
    case 'pipe':
      return bare(def.in as Schema, value, said);
    case 'lazy':
      return bare(def.getter(), value, said);
    case 'union':
      return members(def, value).flatMap((one) => bare(one, value, said));
    case 'intersection':
      return [...bare(def.left as Schema, value, said), ...bare(def.right as Schema, value, said)];
    default:
      return [{ schema, meaning: said }];
  }
}

/** A union's members; where one key tells them apart, the member it names. */
function members(def: z.core.$ZodUnionDef, value: unknown): readonly Schema[] {
  const all = def.options as readonly Schema[];
  const by = 'discriminator' in def && typeof def.discriminator === 'string' ? def.discriminator : undefined;
  if (by === undefined) return all;
  const told = valueAt(value, [by]);
  const named = all.filter((one) => one._zod.propValues?.[by]?.has(told as z.core.util.Primitive));
  return named.length > 0 ? named : all;
}
