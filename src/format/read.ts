/**
 * Reading a placement file: JSON first, then format and version, then every field. Whatever is wrong is told with
 * its JSON path and its line and column; nothing is thrown.
 */
import type { z } from 'zod';
import { failed, found, type Outcome, type Place, type Problem } from '../problems/problem.ts';
import { writtenOut } from '../problems/unseen.ts';
import { acceptorOf } from './accept.ts';
import { faultsOf } from './faults.ts';
import { type Fault, faultIn, keysAgain, mayHaveKeysAgain, offsetsOf, type Step } from './json-place.ts';
import { FORMAT, type Placement, placementSchema, VERSION } from './placement.ts';

/** Problems listed one by one; more are counted. */
const MOST = 100;

/** Characters of a placement file: several times what the largest ring that is laid takes. */
const LONGEST = 64 * 1024 * 1024;

const accepts = acceptorOf(placementSchema);

/** Whether a value is a placement; fields that the format does not know may stand beside those that it does. */
const isPlacement = (value: unknown): value is Placement => accepts(value);

/** The placement that a text holds; `file` is what problems name as their place. */
export function readPlacement(text: string, file = 'placement.json'): Outcome<Placement> {
  const plain = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  if (plain.length > LONGEST)
    return failed({
      code: 'file-too-long',
      message: `the file has ${plain.length} characters; at most ${LONGEST} are read`,
      mend: 'name a placement file',
      place: { file, line: 1, column: 1 },
    });
  let value: unknown;
  try {
    value = JSON.parse(plain);
  } catch (error) {
    return failed(notJson(plain, file, error));
  }
  const other = otherFormat(value, plain, file);
  if (other !== undefined) return failed(other);
  if (!isPlacement(value)) return failed(...wrongFields(value, plain, file));
  const again = mayHaveKeysAgain(plain, value) ? keysAgain(plain, MOST) : [];
  return again.length === 0 ? found(value) : failed(...fieldsAgain(again, plain, file));
}

function fieldsAgain(again: ReturnType<typeof keysAgain>, text: string, file: string): readonly Problem[] {
  const places = placesOf(
    text,
    file,
    again.map(({ offset }) => offset),
  );
  return again.map(({ key }, i) => ({
    code: 'field-twice',
    message: `the field ${shown(key)} is given twice in one object`,
    mend: 'leave one of the two out: which one counts depends on who reads the file',
    place: places[i] ?? { file, line: 1, column: 1 },
  }));
}

function notJson(text: string, file: string, error: unknown): Problem {
  const fault = faultIn(text);
  if (fault === null)
    return {
      code: 'not-json',
      message: `the file cannot be read as JSON: ${error instanceof Error ? error.message : String(error)}`,
      place: { file, line: 1, column: 1 },
    };
  return {
    code: 'not-json',
    message: `the file is no JSON: ${whatStands(text, fault)}`,
    mend: `${fault.expected} was expected here`,
    place: placesOf(text, file, [fault.offset])[0] ?? { file, line: 1, column: 1 },
  };
}

/** The sign at a fault, as a reader sees it. */
function whatStands(text: string, { offset }: Fault): string {
  const code = text.codePointAt(offset);
  if (code === undefined) return 'it ends too soon';
  const sign =
    code < 0x20 || (code >= 0x7f && code < 0xa0) ? `control character ${code}` : String.fromCodePoint(code);
  return `${sign === '"' ? 'a double quote' : `"${sign}"`} stands where it may not`;
}

/** A file of another kind, or of another version of the format. */
function otherFormat(value: unknown, text: string, file: string): Problem | undefined {
  const isObject = typeof value === 'object' && value !== null && !Array.isArray(value);
  const field = (name: string): unknown =>
    isObject && Object.hasOwn(value, name) ? Reflect.get(value, name) : undefined;
  if (field('format') !== FORMAT)
    return {
      code: 'not-a-placement',
      message: isObject
        ? `the file is no placement file: format is ${shown(field('format'))}`
        : `the file is no placement file: it holds ${kindOf(value)} and no object`,
      mend: `a placement file begins with "format": "${FORMAT}"`,
      place: placeOfField(text, file, 'format'),
    };
  if (field('version') !== VERSION)
    return {
      code: 'other-version',
      message: `the file is of version ${shown(field('version'))} of the placement format`,
      mend: `this program reads version ${VERSION}`,
      place: placeOfField(text, file, 'version'),
    };
  return undefined;
}

function wrongFields(value: unknown, text: string, file: string): readonly Problem[] {
  const faults = faultsOf(placementSchema, value, MOST);
  const issues = faults.issues.flatMap((issue) => leaves(issue));
  const listed = issues.slice(0, MOST).map((issue) => ({
    issue,
    path: issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step)),
  }));
  const offsets = offsetsOf(
    text,
    listed.map(({ path }) => path),
  );
  const places = placesOf(text, file, offsets);
  const problems = listed.map(({ issue, path }, i): Problem => {
    const missing = !Object.hasOwn(holderOf(value, path), path[path.length - 1] ?? '');
    return {
      code: missing ? 'missing-field' : 'wrong-field',
      message: missing
        ? `${pathText(path)} is missing`
        : `${pathText(path)} is ${shown(valueAt(value, path))}`,
      mend: expectation(issue),
      place: places[i] ?? { file, line: 1, column: 1 },
    };
  });
  const more = issues.length - listed.length + faults.more;
  if (more > 0)
    problems.push({ code: 'more-problems', message: `${more} or more further problems are not listed` });
  return problems;
}

type Issue = z.core.$ZodIssue;

/** Of a choice between kinds the issues of the kind that fits best, each with its whole path. */
function leaves(issue: Issue): readonly Issue[] {
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return [issue];
  const best = issue.errors.reduce((a, b) => (b.length < a.length ? b : a));
  return best.flatMap((inner) => leaves({ ...inner, path: [...issue.path, ...inner.path] }));
}

/** What an issue says should have stood there. */
function expectation(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return `expected: ${TYPES[issue.expected] ?? issue.expected}`;
    case 'invalid_value':
      return `expected: ${issue.values.map((value) => shown(value)).join(' or ')}`;
    case 'too_small':
      if (issue.origin === 'string') return `expected: a text of ${issue.minimum} characters or more`;
      return `expected: ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`;
    case 'too_big':
      if (issue.origin === 'string') return `expected: a text of ${issue.maximum} characters or less`;
      return `expected: ${issue.inclusive ? 'at most' : 'less than'} ${issue.maximum}`;
    default:
      return issue.message;
  }
}

/** zod's names of types in plain words. */
const TYPES: Readonly<Partial<Record<string, string>>> = {
  int: 'a whole number',
  number: 'a number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list of two',
  object: 'an object',
  record: 'an object',
};

/** A path as scripts write it: `cells[3].origin.x`. */
function pathText(path: readonly Step[]): string {
  let text = '';
  for (const step of path)
    text +=
      typeof step === 'number'
        ? `[${step}]`
        : /^[A-Za-z_]\w{0,60}$/.test(step)
          ? `${text === '' ? '' : '.'}${step}`
          : `[${shown(step)}]`;
  return text === '' ? 'the file' : text;
}

function valueAt(value: unknown, path: readonly Step[]): unknown {
  let here = value;
  for (const step of path) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return undefined;
    here = Reflect.get(here, step);
  }
  return here;
}

/** The object or list that a path's last step leads out of. */
function holderOf(value: unknown, path: readonly Step[]): object {
  const holder = valueAt(value, path.slice(0, -1));
  return typeof holder === 'object' && holder !== null ? holder : {};
}

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' ? 'an object' : typeof value === 'string' ? 'a text' : `a ${typeof value}`;
}

/** A value for a message: short, on one line, with what cannot be seen written out. */
function shown(value: unknown): string {
  if (value === undefined) return 'missing';
  if (typeof value !== 'string') return typeof value === 'object' ? kindOf(value) : String(value);
  const short = value.length > 60 ? `${value.slice(0, 60)}…` : value;
  return writtenOut(JSON.stringify(short));
}

const placeOfField = (text: string, file: string, name: string): Place =>
  placesOf(text, file, offsetsOf(text, [[name]]))[0] ?? { file, line: 1, column: 1 };

/** Lines and columns of offsets, counted from 1; the text is gone through once. */
function placesOf(text: string, file: string, offsets: readonly number[]): readonly Place[] {
  const places: Place[] = [];
  let line = 1;
  let start = 0;
  let end = text.indexOf('\n');
  for (const [offset, index] of offsets
    .map((offset, index) => [offset, index] as const)
    .sort((a, b) => a[0] - b[0])) {
    while (end >= 0 && end < offset) {
      line++;
      start = end + 1;
      end = text.indexOf('\n', start);
    }
    places[index] = { file, line, column: offset - start + 1 };
  }
  return places;
}
