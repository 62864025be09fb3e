/** A file of another kind: told as that, not by each of its keys. */
import type { Problem } from '../problems/problem.ts';
import { type Source, shortText } from './source.ts';

export interface Kind {
  /** What the file should be, with its article left out: `ring description`. */
  readonly name: string;
  /** The keys that there are. */
  readonly known: readonly string[];
  readonly mend: string;
}

/** Keys of which a file of the kind has at least one. */
const FEW = 3;

/** The problem of a file most of whose keys are none of its kind's, and of whose own it has hardly any. */
export function foreignFile({ file, value, placeOf }: Source, kind: Kind): Problem | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return undefined;
  const keys = Object.keys(value);
  const known = new Set(kind.known);
  const own = keys.filter((key) => known.has(key));
  const others = keys.filter((key) => !known.has(key));
  if (others.length < FEW || own.length * 2 >= others.length) return undefined;
  const quoted = (list: readonly string[]): string =>
    list.map((key) => `\`${shortText(key, 40)}\``).join(', ');
  const more = others.length > FEW ? ` and ${others.length - FEW} more` : '';
  const has = own.length === 0 ? 'none of its keys' : `of its keys only ${quoted(own.slice(0, FEW))}`;
  return {
    code: 'other-file',
    message: `${shortText(file, 60)} seems to be no ${kind.name}: it has ${has}, but ${quoted(others.slice(0, FEW))}${more}`,
    mend: kind.mend,
    place: placeOf([]),
  };
}
