/**
 * Shows: a placement file is read or refused with every fault's JSON path, line and column, another format or version
 * first; nothing is thrown whatever the text; the quick acceptor says what zod says. Source of the values: the text
 * itself, counted by hand; zod 4 and JSON.parse as second opinions.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import { acceptorOf } from '../../src/format/accept.ts';
import { faultIn, keysAgain, mayHaveKeysAgain } from '../../src/format/json-place.ts';
import { placementSchema } from '../../src/format/placement.ts';
import { readPlacement } from '../../src/format/read.ts';
import type { Problem } from '../../src/problems/problem.ts';
import { HAND_BUILT } from './hand-built.ts';
import { samples } from './samples.ts';

const TEXT = JSON.stringify(HAND_BUILT, null, 2);

const problemsOf = (text: string): readonly Problem[] => {
  const outcome = readPlacement(text, 'p.json');
  return outcome.ok ? [] : outcome.problems;
};

/** Line and column of the n-th occurrence of a text, counted from 1. */
function placeOf(text: string, word: string, after = ''): { file: string; line: number; column: number } {
  const offset = text.indexOf(word, after === '' ? 0 : text.indexOf(after));
  const lines = text.slice(0, offset).split('\n');
  return { file: 'p.json', line: lines.length, column: (lines.at(-1)?.length ?? 0) + 1 };
}

describe('reading a placement', () => {
  it('gives back what was written, with or without a byte-order mark', () => {
    for (const text of [TEXT, `\ufeff${TEXT}`, JSON.stringify(HAND_BUILT)]) {
      const outcome = readPlacement(text);
      expect(outcome.ok && outcome.value).toEqual(HAND_BUILT);
    }
  });

  it('refuses a field that is given twice, wherever it is, and not one of a name within a text', () => {
    const text = TEXT.replace('"version": 1', '"version": 1,\n  "version" : 1').replace(
      '"number": 2,',
      '"number": 2, "num\\u0062er":3,',
    );
    const problems = problemsOf(text);
    expect(problems.map(({ code, message, place }) => [code, message, place])).toEqual([
      ['field-twice', 'the field "version" is given twice in one object', placeOf(text, '"version" : 1')],
      ['field-twice', 'the field "number" is given twice in one object', placeOf(text, '"num\\u0062er"')],
    ]);
    expect(problemsOf(TEXT.replace('"ring": "', '"ring": "a\\": \\" :'))).toEqual([]);
  });

  it('finds a key twice in any JSON, and none in what JSON.stringify writes', () => {
    const key = fc.constantFrom('a', 'b', '"', ':', '" :', '__proto__', '\u2028');
    const { tree } = fc.letrec<{ tree: unknown }>((tie) => ({
      tree: fc.oneof(
        { maxDepth: 4 },
        fc.oneof(key, fc.integer(), fc.constant(null)),
        fc.array(tie('tree'), { maxLength: 3 }),
        fc.dictionary(key, tie('tree'), { maxKeys: 4 }),
      ),
    }));
    const space = fc.constantFrom(undefined, 1, '\t');
    fc.assert(
      fc.property(fc.dictionary(key, tree, { minKeys: 1 }), tree, space, (object, value, indent) => {
        const text = JSON.stringify(object, null, indent);
        expect(keysAgain(text, 9)).toEqual([]);
        const [again = ''] = Object.keys(object);
        const twice = `[${text.slice(0, -1)},${JSON.stringify(again)} :${JSON.stringify(value)}}]`;
        expect(hasKeyTwice(twice)).toBe(true);
        expect(mayHaveKeysAgain(twice, JSON.parse(twice))).toBe(true);
        expect(keysAgain(twice, 9)).toEqual([
          { key: again, offset: twice.lastIndexOf(`${JSON.stringify(again)} :`, text.length + 1) },
        ]);
      }),
      { numRuns: 300 },
    );
  });

  it('need not look closer at placements as they are written', () => {
    for (const { placement } of samples()) {
      const text = JSON.stringify(placement);
      expect(mayHaveKeysAgain(text, JSON.parse(text))).toBe(false);
    }
  });

  it('passes over fields that it does not know', () => {
    const outcome = readPlacement(JSON.stringify({ ...HAND_BUILT, more: { deep: [1, 2, 3] } }));
    expect(outcome.ok).toBe(true);
  });

  it('tells another version before anything else', () => {
    const text = TEXT.replace('"version": 1', '"version": 2').replace('"bondPads"', '"bonds"');
    expect(problemsOf(text)).toEqual([
      {
        code: 'other-version',
        message: 'the file is of version 2 of the placement format',
        mend: 'this program reads version 1',
        place: placeOf(text, '2', '"version"'),
      },
    ]);
  });

  it('tells a file of another kind', () => {
    expect(problemsOf('[1, 2]').map((p) => [p.code, p.place])).toEqual([
      ['not-a-placement', { file: 'p.json', line: 1, column: 1 }],
    ]);
    expect(problemsOf('{"format": "something"}')[0]?.place).toEqual({ file: 'p.json', line: 1, column: 12 });
  });

  it('tells every wrong and missing field with its path and place', () => {
    const text = TEXT.replace('"rotation": 270', '"rotation": 45')
      .replace('"closed": true', '"closed": "yes"')
      .replace('"seal": 10,', '')
      .replace('"kind": "ground"', '"kind": "earth"');
    expect(problemsOf(text).map((p) => [p.code, p.message, p.mend, p.place])).toEqual([
      ['missing-field', 'rules.edge.seal is missing', 'expected: a number', placeOf(text, '{', '"edge"')],
      [
        'wrong-field',
        'nets[1].kind is "earth"',
        'expected: "supply" or "ground" or "signal"',
        placeOf(text, '"earth"'),
      ],
      ['wrong-field', 'cells[0].rotation is 45', 'expected: 0 or 90 or 180 or 270', placeOf(text, '45')],
      ['wrong-field', 'rails[0].closed is "yes"', 'expected: true or false', placeOf(text, '"yes"')],
    ]);
  });

  it('tells numbers that JSON lets through and no length can be', () => {
    const text = TEXT.replace('"x": 133', '"x": 1e999');
    expect(problemsOf(text).map((p) => p.message)).toEqual(['cells[0].x is Infinity']);
  });

  it('lists a hundred problems and counts the rest', () => {
    const text = JSON.stringify({ ...HAND_BUILT, cells: Array(300).fill({}) });
    const problems = problemsOf(text);
    expect(problems).toHaveLength(101);
    expect(problems.at(-1)?.message).toMatch(/further problems are not listed$/);
  });

  it.each([
    ['{"a": }', 7, 'a value'],
    ['{"a": 1,}', 9, 'a key in double quotes'],
    ['[1, 2', 6, 'a comma or ]'],
    ['{"a" 1}', 6, 'a colon after the key'],
    ['{"a": "b', 7, 'a text that ends in double quotes'],
    ['{"a": 01}', 8, 'a comma or }'],
    ['{"a": 1} 2', 10, 'nothing after the value'],
    ['', 1, 'a value'],
  ])('tells where %s is no JSON', (text, column, expected) => {
    expect(problemsOf(text)).toMatchObject([
      { code: 'not-json', mend: `${expected} was expected here`, place: { line: 1, column } },
    ]);
  });

  it('withstands a million brackets and a text of many megabytes', () => {
    expect(problemsOf('['.repeat(1_000_000))[0]?.code).toBe('not-json');
    expect(problemsOf(`${'['.repeat(1_000_000)}${']'.repeat(1_000_000)}`)[0]?.code).toBe('not-a-placement');
    expect(problemsOf(`{"format": "${'x'.repeat(20_000_000)}`)[0]?.code).toBe('not-json');
  });

  it('writes no control character or foreign sign of direction into a message', () => {
    const text = TEXT.replace('"by hand"', JSON.stringify('')).replace(
      '"kind": "ground"',
      '"kind": "\\u202e\\u0007"',
    );
    for (const problem of problemsOf(text)) expect(problem.message).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    expect(problemsOf(text)).toHaveLength(2);
  });

  it('is not fooled by a key named __proto__', () => {
    const text = TEXT.replace('"cells": [', '"cellz": [').replace(
      '"version": 1',
      '"version": 1, "__proto__": {"cells": []}',
    );
    expect(problemsOf(text).map((p) => p.message)).toEqual(['cells is missing']);
  });
});

/** Random bytes, and the file with some of its text taken out, doubled or overwritten. */
const mutated = fc
  .tuple(
    fc.nat(TEXT.length - 1),
    fc.nat(40),
    fc.oneof(
      fc.string({ unit: 'binary', maxLength: 12 }),
      fc.constantFrom('"', '{', '}', '[', ']', ',', '1e999', '-0', 'null', '\\', '\u0000'),
    ),
    fc.constantFrom('cut', 'insert', 'overwrite', 'truncate'),
  )
  .map(([at, length, piece, way]) => {
    if (way === 'truncate') return TEXT.slice(0, at);
    if (way === 'cut') return TEXT.slice(0, at) + TEXT.slice(at + length);
    return TEXT.slice(0, at) + piece + TEXT.slice(way === 'insert' ? at : at + length);
  });

/** What another library says: JSON is YAML, in which a key may not come twice. */
const hasKeyTwice = (text: string): boolean =>
  parseDocument(text).errors.some(({ code }) => code === 'DUPLICATE_KEY');

describe('any text', () => {
  it('is read, or refused with a place, as JSON.parse and zod would have it', () => {
    fc.assert(
      fc.property(
        fc.oneof({ weight: 4, arbitrary: mutated }, fc.json(), fc.string({ unit: 'binary' })),
        (text) => {
          const outcome = readPlacement(text, 'p.json');
          let parsed: unknown;
          let isJson = true;
          try {
            parsed = JSON.parse(text.replace(/^\ufeff/, ''));
          } catch {
            isJson = false;
          }
          expect(faultIn(text.replace(/^\ufeff/, '')) === null).toBe(isJson);
          const isTwice = !outcome.ok && outcome.problems.some((p) => p.code === 'field-twice');
          if (isTwice) expect(hasKeyTwice(text)).toBe(true);
          expect(outcome.ok || isTwice).toBe(isJson && placementSchema.safeParse(parsed).success);
          if (outcome.ok) return;
          expect(outcome.problems.length).toBeGreaterThan(0);
          for (const { place, code } of outcome.problems) {
            if (code === 'more-problems') continue;
            expect(place?.line).toBeGreaterThanOrEqual(1);
            expect(place?.column).toBeGreaterThanOrEqual(1);
          }
        },
      ),
      { numRuns: process.env.PROOF === undefined ? 1500 : 100_000 },
    );
  });
});

describe('the quick acceptor', () => {
  const accepts = acceptorOf(placementSchema);

  /** Replaces one value somewhere in a copy of plain data. */
  function scrambled(value: unknown, path: readonly number[], by: unknown): unknown {
    const [step, ...rest] = path;
    if (step === undefined || typeof value !== 'object' || value === null) return by;
    const keys = Object.keys(value);
    const key = keys[step % Math.max(1, keys.length)];
    if (key === undefined) return by;
    if (Array.isArray(value)) return value.map((v, i) => (String(i) === key ? scrambled(v, rest, by) : v));
    const copy: Record<string, unknown> = { ...value };
    if (by === undefined && rest.length === 0) delete copy[key];
    else copy[key] = scrambled(Reflect.get(value, key), rest, by);
    return copy;
  }

  it('says yes and no just where zod does', () => {
    const all = samples().map((s) => s.placement);
    let refused = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...all),
        fc.array(fc.nat(1000), { minLength: 1, maxLength: 7 }),
        fc.oneof(
          fc.anything({ maxDepth: 1 }),
          fc.constantFrom(0, -1, 0.5, '', 'x', null, undefined, 1e300, [], {}),
        ),
        (placement, path, by) => {
          const value = scrambled(placement, path, by);
          const verdict = placementSchema.safeParse(value).success;
          if (!verdict) refused++;
          expect(accepts(value)).toBe(verdict);
        },
      ),
      { numRuns: 600 },
    );
    expect(refused).toBeGreaterThan(100);
  });
});
