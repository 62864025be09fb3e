/** Holding what was read against a zod schema; everything that does not fit becomes a problem with its place. */
import type { z } from 'zod';
import { failed, found, type Outcome } from '../problems/problem.ts';
import { capped, LIMITS } from './limits.ts';
import { type Path, type Source, valueAt } from './source.ts';
import { PLAIN, problemsOf } from './wording.ts';

/**
 * The value at a path, checked and transformed by a schema, or every problem at once.
 *
 * A schema that words its own messages writes what follows the value's name: `must be a multiple of the grid`. An issue
 * of code `custom` may carry `params: { code, mend }`, which become the problem's; without, its code is `not-allowed`.
 */
export function validate<S extends z.ZodType>(
  schema: S,
  source: Source,
  path: Path = [],
): Outcome<z.output<S>> {
  const value = valueAt(source.value, path);
  const result = schema.safeParse(value, { reportInput: true, error: () => PLAIN });
  if (result.success) return found(result.data);
  const { issues } = result.error;
  const checked = { schema, source, value, base: path };
  const listed = issues.slice(0, LIMITS.problems).flatMap((issue) => problemsOf(checked, issue));
  return failed(...capped(listed, issues.length - LIMITS.problems));
}
