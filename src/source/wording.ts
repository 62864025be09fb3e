/** A zod issue as problems in plain words. */
import type { z } from 'zod';
import { nearest } from '../problems/nearest.ts';
import type { Place, Problem } from '../problems/problem.ts';
import { knownKeys, schemasAt } from './schema-at.ts';
import { type Path, pathText, type Source, shortText, valueAt } from './source.ts';

/** The message of an issue that the schema did not word itself. */
export const PLAIN = 'plain';

export interface Checked {
  readonly schema: z.core.$ZodType;
  readonly source: Source;
  /** The value that was held against the schema. */
  readonly value: unknown;
  /** Its path in the source. */
  readonly base: Path;
}

type Issue = z.core.$ZodIssue;

/** The problems that an issue stands for: one for each unknown key, else one. */
export function problemsOf(checked: Checked, issue: Issue): readonly Problem[] {
  const at = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step));
  if (issue.code === 'unrecognized_keys') return unknownKeys(checked, at, issue.keys);
  if (issue.code === 'invalid_key') return [badKey(checked, at, issue.issues)];
  if (isMissing(checked, at)) return [missing(checked, at, issue)];
  if (issue.code === 'invalid_union') {
    const meant = meantMember(issue);
    if (meant)
      return meant.flatMap((inner) =>
        problemsOf(checked, { ...inner, path: [...issue.path, ...inner.path] }),
      );
  }
  const place = checked.source.placeOf([...checked.base, ...at]);
  const params = issue.code === 'custom' ? issue.params : undefined;
  const own = issue.message === PLAIN ? wording(issue, checked, at) : { words: issue.message };
  const mend = typeof params?.mend === 'string' ? params.mend : own.mend;
  return [
    {
      code:
        typeof params?.code === 'string'
          ? params.code
          : 'options' in issue
            ? CODES.invalid_value
            : CODES[issue.code],
      message: `${subject(checked, at)} ${own.words}`,
      ...(mend === undefined ? {} : { mend }),
      place,
    },
  ];
}

const CODES: Readonly<Record<Issue['code'], string>> = {
  invalid_type: 'wrong-kind',
  invalid_union: 'wrong-kind',
  invalid_value: 'unknown-word',
  too_big: 'out-of-range',
  too_small: 'out-of-range',
  not_multiple_of: 'out-of-range',
  invalid_format: 'wrong-form',
  unrecognized_keys: 'unknown-key',
  invalid_key: 'wrong-form',
  invalid_element: 'wrong-kind',
  custom: 'not-allowed',
};

interface Words {
  readonly words: string;
  readonly mend?: string;
}

function wording(issue: Issue, checked: Checked, at: Path): Words {
  const value = valueAt(checked.value, at);
  const but = `, but is ${foundWords(value)}`;
  const meaning = meaningAt(checked, at);
  const mend = meaning === undefined ? {} : { mend: `it is ${meaning}` };
  switch (issue.code) {
    case 'invalid_type': {
      const quoted = issue.expected === 'string' && (typeof value === 'number' || typeof value === 'boolean');
      const bare =
        (issue.expected === 'number' || issue.expected === 'int') &&
        typeof value === 'string' &&
        value.trim() !== '' &&
        Number.isFinite(Number(value));
      const key = at.at(-1);
      const emptyList =
        issue.expected === 'array' && value === null && typeof key === 'string'
          ? { mend: `an empty one is written \`${shortText(key, 60)}: []\`` }
          : undefined;
      return {
        words: `must be ${kindWords(issue.expected)}${but}`,
        ...(emptyList ??
          numberSlip(issue.expected, value) ??
          (quoted ? { mend: 'put it in quotes' } : bare ? { mend: 'write it without quotes' } : mend)),
      };
    }
    case 'invalid_value':
      return { words: `must be ${choices(issue.values)}${but}`, ...hint(value, issue.values) };
    case 'invalid_union':
      return 'options' in issue && issue.options
        ? { words: `must be ${choices(issue.options)}${but}`, ...hint(value, issue.options) }
        : { words: `must be ${unionWords(issue)}${but}`, ...mend };
    case 'too_small': {
      const least = `${issue.inclusive === false ? 'above' : 'at least'} ${issue.minimum}`;
      return {
        words: amount(issue.origin, least, value, 'must not be empty', Number(issue.minimum)),
        ...mend,
      };
    }
    case 'too_big': {
      const most = `${issue.inclusive === false ? 'below' : 'at most'} ${issue.maximum}`;
      return { words: amount(issue.origin, most, value, undefined, 0), ...mend };
    }
    case 'not_multiple_of':
      return { words: `must be a multiple of ${issue.divisor}${but}`, ...mend };
    default:
      return { words: `has not the form that is needed here: it is ${foundWords(value)}`, ...mend };
  }
}

/** A number that is written with a decimal comma, or with a unit behind it. */
function numberSlip(expected: string, value: unknown): { mend: string } | undefined {
  if ((expected !== 'number' && expected !== 'int') || typeof value !== 'string') return undefined;
  if (/^\s*[+-]?\d+,\d+\s*$/.test(value))
    return { mend: `write it with a decimal point: ${value.trim().replace(',', '.')}` };
  const united = /^\s*([+-]?\d+(?:\.\d+)?)\s*\p{L}{1,12}\s*$/u.exec(value);
  return united === null ? undefined : { mend: `write the number alone, in the unit of this key` };
}

function amount(
  origin: string,
  bound: string,
  value: unknown,
  whenEmpty: string | undefined,
  least: number,
): string {
  const size = Array.isArray(value) || typeof value === 'string' ? value.length : undefined;
  if (origin === 'string')
    return whenEmpty && least === 1 ? whenEmpty : `must have ${bound} characters, but has ${size}`;
  if (origin === 'array')
    return whenEmpty && least === 1 ? whenEmpty : `must have ${bound} entries, but has ${size}`;
  return `must be ${bound}, but is ${foundWords(value)}`;
}

/** Unknown keys of one group that are told one by one; a group that holds more is of another kind, or a file is. */
const TOLD = 4;

/** What some YAML readers take `<<` for is no part of YAML 1.2. */
const UNMERGED =
  'keys are not merged into others: write them out, or repeat the whole value with `*` and its name';

function unknownKeys(checked: Checked, at: Path, keys: readonly string[]): readonly Problem[] {
  const known = knownKeys(checked.schema, checked.value, at);
  const owner = at.length + checked.base.length === 0 ? 'the file' : subject(checked, at);
  const placeOf = (key: string): Place => checked.source.placeOfKey([...checked.base, ...at, key]);
  // All keys that there are, told once.
  let listed = false;
  const told = keys.length > TOLD + 1 ? keys.slice(0, TOLD) : keys;
  const problems = told.map((key): Problem => {
    const near = key === '<<' ? undefined : nearest(key, known);
    const all = known.length > 0 ? `the keys here are ${listWords(known)}` : 'no keys are known here';
    const mend =
      key === '<<' ? UNMERGED : near !== undefined ? `did you mean \`${near}\`?` : listed ? undefined : all;
    listed ||= near === undefined && key !== '<<';
    return {
      code: 'unknown-key',
      message: `${owner} has no key \`${shortText(key, 60)}\``,
      ...(mend === undefined ? {} : { mend }),
      place: placeOf(key),
    };
  });
  const [next, ...others] = keys.slice(told.length);
  if (next === undefined) return problems;
  return [
    ...problems,
    {
      code: 'unknown-key',
      message: `${owner} has no key \`${shortText(next, 60)}\` either, and ${others.length} more that are not known`,
      place: placeOf(next),
    },
  ];
}

function badKey(checked: Checked, at: Path, inner: readonly Issue[]): Problem {
  const [first] = inner;
  const words =
    first === undefined || first.message === PLAIN
      ? first?.code === 'too_small'
        ? 'must not be empty'
        : first?.code === 'too_big'
          ? `must have at most ${first.maximum} characters`
          : 'is not allowed here'
      : first.message;
  return {
    code: 'wrong-form',
    message: `the name \`${shortText(String(at.at(-1) ?? ''), 60)}\` ${words}`,
    place: checked.source.placeOfKey([...checked.base, ...at]),
  };
}

function isMissing(checked: Checked, at: Path): boolean {
  return at.length > 0 && valueAt(checked.value, at) === undefined;
}

function missing(checked: Checked, at: Path, issue: Issue): Problem {
  const key = shortText(String(at.at(-1) ?? ''), 60);
  const above = at.slice(0, -1);
  const owner = above.length + checked.base.length === 0 ? 'the file' : subject(checked, above);
  const meaning = meaningAt(checked, at);
  const kind =
    issue.code === 'invalid_type'
      ? kindWords(issue.expected)
      : issue.code === 'invalid_value'
        ? choices(issue.values)
        : issue.code === 'invalid_union'
          ? 'options' in issue && issue.options
            ? choices(issue.options)
            : unionWords(issue)
          : 'a value';
  return {
    code: 'missing-key',
    message: `${owner} lacks \`${key}\``,
    mend: `add \`${key}:\` with ${kind}${meaning === undefined ? '' : `: ${meaning}`}`,
    place: checked.source.placeOfKey([...checked.base, ...above]),
  };
}

/** The issues of the member of a union that the value was most likely meant for; undefined if of none. */
function meantMember(issue: z.core.$ZodIssueInvalidUnion): readonly Issue[] | undefined {
  const close = issue.errors.filter((errors) => !errors.some(ofWholeValue));
  return close.toSorted((a, b) => a.length - b.length)[0];
}

const ofWholeValue = (issue: Issue): boolean =>
  issue.path.length === 0 &&
  (issue.code === 'invalid_type' || issue.code === 'invalid_value' || issue.code === 'invalid_union');

function unionWords(issue: z.core.$ZodIssueInvalidUnion): string {
  const kinds = new Set<string>();
  for (const errors of issue.errors)
    for (const inner of errors) {
      if (inner.path.length > 0) continue;
      if (inner.code === 'invalid_type') kinds.add(kindWords(inner.expected));
      if (inner.code === 'invalid_value') kinds.add(choices(inner.values));
      if (inner.code === 'invalid_union') kinds.add(unionWords(inner));
    }
  return kinds.size === 0 ? 'of another kind' : [...kinds].join(' or ');
}

const KINDS: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: '`true` or `false`',
  array: 'a list',
  tuple: 'a list',
  object: 'a group of keys',
  record: 'a group of names',
  null: 'empty',
};

const kindWords = (expected: string): string => KINDS[expected] ?? expected;

/** What stands there, for a reader who knows no programming. */
function foundWords(value: unknown): string {
  if (value === null || value === undefined) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group of keys';
  if (typeof value === 'string') return value === '' ? 'an empty text' : `the text "${shortText(value, 40)}"`;
  if (typeof value === 'number')
    return Number.isNaN(value) ? 'not a number' : Number.isFinite(value) ? String(value) : 'infinite';
  return `\`${String(value)}\``;
}

function choices(values: readonly z.core.util.Primitive[]): string {
  return values.length === 1 ? `\`${String(values[0])}\`` : `one of ${listWords(values.map(String))}`;
}

function hint(value: unknown, values: readonly z.core.util.Primitive[]): { mend?: string } {
  const near = typeof value === 'string' ? nearest(value, values.map(String)) : undefined;
  return near === undefined ? {} : { mend: `did you mean \`${near}\`?` };
}

const listWords = (words: readonly string[]): string =>
  words.map((word) => `\`${shortText(word, 60)}\``).join(', ');

const subject = (checked: Checked, at: Path): string => {
  const path = [...checked.base, ...at];
  return path.length === 0 ? 'the file' : `\`${pathText(path)}\``;
};

/** What the schema says about the value at a path, where all that could be meant agree. */
function meaningAt(checked: Checked, at: Path): string | undefined {
  const meanings = new Set(schemasAt(checked.schema, checked.value, at).map((one) => one.meaning));
  const [only] = meanings;
  return meanings.size === 1 ? only : undefined;
}
