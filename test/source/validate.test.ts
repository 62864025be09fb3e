/**
 * From zod's issues to problems that a ring's author can act on: code, place, plain words, the nearest known name.
 * Source of the values: worked by hand from the texts in each case. Lengths: one picometre is the finest (our own).
 */
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { problemText } from '../../src/problems/problem.ts';
import { length, positiveLength, signedLength } from '../../src/source/length.ts';
import { validate } from '../../src/source/validate.ts';
import { readYaml } from '../../src/source/yaml.ts';

const told = (schema: z.ZodType, text: string): string[] => {
  const source = readYaml(text, 'r.yaml');
  if (!source.ok) throw new Error('unreadable');
  const checked = validate(schema, source.value);
  return checked.ok ? [] : checked.problems.map(problemText);
};

const pads = z.strictObject({
  pitch: positiveLength().describe('the least distance of two pad centres'),
  style: z.enum(['inline', 'staggered']).default('inline'),
  names: z.array(z.string().min(1).max(5)).max(2).optional(),
  count: z.int().optional(),
  on: z.boolean().optional(),
  side: z.union([z.literal('fit'), z.strictObject({ width: length(), height: length() })]).optional(),
  rule: z
    .discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('apart'), distance: length() }),
      z.strictObject({ kind: z.literal('together') }),
    ])
    .optional(),
});
const ring = z.strictObject({ pads });

describe('validate', () => {
  it('gives the schema\u2019s output', () => {
    const source = readYaml('pads: {pitch: 0.1}', 'r.yaml');
    if (!source.ok) throw new Error('unreadable');
    expect(validate(ring, source.value)).toEqual({
      ok: true,
      value: { pads: { pitch: 100_000, style: 'inline' } },
      notes: [],
    });
    expect(validate(length(), source.value, ['pads', 'pitch'])).toMatchObject({ value: 100_000 });
    const part = validate(z.strictObject({ pich: length() }), source.value, ['pads']);
    expect(part.ok ? [] : part.problems.map(problemText)).toEqual([
      'r.yaml:1:1: `pads` lacks `pich` [missing-key]\n    add `pich:` with a number',
      'r.yaml:1:8: `pads` has no key `pitch` [unknown-key]\n    did you mean `pich`?',
    ]);
  });

  it('reports everything at once, each with place, words and mend', () => {
    expect(
      told(
        ring,
        'pads:\n  pich: 70\n  style: stagered\n  names: [toolong, ""]\n  count: 1.5\n  on: yes\n  side: {width: 5}\n',
      ),
    ).toEqual([
      'r.yaml:1:1: `pads` lacks `pitch` [missing-key]\n    add `pitch:` with a number: the least distance of two pad centres',
      'r.yaml:3:10: `pads.style` must be one of `inline`, `staggered`, but is the text "stagered" [unknown-word]\n    did you mean `staggered`?',
      'r.yaml:4:11: `pads.names[0]` must have at most 5 characters, but has 7 [out-of-range]',
      'r.yaml:4:20: `pads.names[1]` must not be empty [out-of-range]',
      'r.yaml:5:10: `pads.count` must be a whole number, but is 1.5 [wrong-kind]',
      'r.yaml:6:7: `pads.on` must be `true` or `false`, but is the text "yes" [wrong-kind]',
      'r.yaml:7:3: `pads.side` lacks `height` [missing-key]\n    add `height:` with a number',
      'r.yaml:2:3: `pads` has no key `pich` [unknown-key]\n    did you mean `pitch`?',
    ]);
  });

  it('says how long a list may be, and that a number meant as a text needs quotes', () => {
    expect(told(ring, 'pads: {pitch: 1, names: [a, b, c]}')).toEqual([
      'r.yaml:1:25: `pads.names` must have at most 2 entries, but has 3 [out-of-range]',
    ]);
    expect(told(ring, 'pads: {pitch: 1, names: [7]}')).toEqual([
      'r.yaml:1:26: `pads.names[0]` must be a text, but is 7 [wrong-kind]\n    put it in quotes',
    ]);
  });

  it('speaks of the file where nothing is named, and lists keys where none is near', () => {
    expect(told(ring, 'corner: 5\n')).toEqual([
      'r.yaml:1:1: the file lacks `pads` [missing-key]\n    add `pads:` with a group of keys',
      'r.yaml:1:1: the file has no key `corner` [unknown-key]\n    the keys here are `pads`',
    ]);
    expect(told(ring, '- 5\n')).toEqual([
      'r.yaml:1:1: the file must be a group of keys, but is a list [wrong-kind]',
    ]);
    expect(told(ring, '')).toEqual([
      'r.yaml:1:1: the file must be a group of keys, but is empty [wrong-kind]',
    ]);
  });

  it('says what a choice of shapes takes', () => {
    expect(told(ring, 'pads: {pitch: 1, side: 5}')).toEqual([
      'r.yaml:1:24: `pads.side` must be `fit` or a group of keys, but is 5 [wrong-kind]',
    ]);
    expect(told(ring, 'pads: {pitch: 1, rule: {kind: aprt}}')).toEqual([
      'r.yaml:1:31: `pads.rule.kind` must be one of `apart`, `together`, but is the text "aprt" [unknown-word]\n    did you mean `apart`?',
    ]);
    expect(told(ring, 'pads: {pitch: 1, rule: {kind: apart, distnce: 5}}')).toEqual([
      'r.yaml:1:18: `pads.rule` lacks `distance` [missing-key]\n    add `distance:` with a number',
      'r.yaml:1:38: `pads.rule` has no key `distnce` [unknown-key]\n    did you mean `distance`?',
    ]);
    expect(told(ring, 'pads: {pitch: 1, rule: {distance: 5}}')).toEqual([
      'r.yaml:1:18: `pads.rule` lacks `kind` [missing-key]\n    add `kind:` with one of `apart`, `together`',
    ]);
  });

  it('uses the words, code and mend of a schema\u2019s own rule', () => {
    const own = z.strictObject({
      a: z.record(z.string().min(1).max(3), z.string().regex(/^x/, 'must start with x')),
      b: z.number().superRefine((n, c) => {
        c.addIssue({
          code: 'custom',
          message: `must not be ${n}`,
          params: { code: 'bad-b', mend: 'write 2' },
        });
      }),
    });
    expect(told(own, 'a: {k: y, longer: x, "": x}\nb: 1\n')).toEqual([
      'r.yaml:1:8: `a.k` must start with x [wrong-form]',
      'r.yaml:1:11: the name `longer` must have at most 3 characters [wrong-form]',
      'r.yaml:1:22: the name `` must not be empty [wrong-form]',
      'r.yaml:2:4: `b` must not be 1 [bad-b]\n    write 2',
    ]);
  });

  it('tells the first unknown keys of a group, what keys there are once, and counts the rest', () => {
    const keys = Array.from({ length: 300 }, (_, i) => `k${i}: 1\n`).join('');
    expect(told(ring, keys)).toEqual([
      'r.yaml:1:1: the file lacks `pads` [missing-key]\n    add `pads:` with a group of keys',
      'r.yaml:1:1: the file has no key `k0` [unknown-key]\n    the keys here are `pads`',
      'r.yaml:2:1: the file has no key `k1` [unknown-key]',
      'r.yaml:3:1: the file has no key `k2` [unknown-key]',
      'r.yaml:4:1: the file has no key `k3` [unknown-key]',
      'r.yaml:5:1: the file has no key `k4` either, and 295 more that are not known [unknown-key]',
    ]);
    expect(told(ring, keys.split('\n').slice(0, 5).join('\n')).at(-1)).toBe(
      'r.yaml:5:1: the file has no key `k4` [unknown-key]',
    );
  });

  it('says how an empty list is written', () => {
    expect(told(z.strictObject({ left: z.array(z.string()) }), 'left:\n')).toEqual([
      'r.yaml:1:6: `left` must be a list, but is empty [wrong-kind]\n    an empty one is written `left: []`',
    ]);
  });

  it('lists a hundred problems and counts the rest', () => {
    expect(told(z.array(z.number()), '- a\n'.repeat(250)).at(-1)).toBe(
      '150 further problems are not listed [more-problems]',
    );
  });

  it('keeps control characters and long texts out of its messages', () => {
    const long = 'x'.repeat(500);
    for (const text of told(ring, `pads: {pitch: "\\e[2J\\n${long}", ${long}: 1}`)) {
      expect(text.length).toBeLessThan(300);
      expect(text.replaceAll('\n    ', '')).not.toMatch(/\p{Cc}/u);
    }
  });
});

describe('lengths', () => {
  const all = z.strictObject({
    a: length().optional(),
    b: positiveLength().optional(),
    c: signedLength().optional(),
  });

  it('refuses what is no length: too fine, too long, negative, zero, infinite, a text', () => {
    const codes = (text: string): string[] => told(all, text).map((p) => p.split(': ').slice(1).join(': '));
    expect(codes('{a: 0, b: 0.000001, c: -0.005}')).toEqual([]);
    expect(codes('{a: 0.0000001}')).toEqual([
      '`a` must be a whole number of picometres, so have at most six decimals, but is 1e-7 [too-fine]\n    round it to six decimals',
    ]);
    expect(codes('{a: 1000001, c: -1000001}')).toEqual([
      '`a` must be at most 1000000 micrometres, which is a metre [out-of-range]',
      '`c` must be at least -1000000 micrometres [out-of-range]',
    ]);
    expect(codes('{a: -1, b: 0}')).toEqual([
      '`a` must be at least 0, but is -1 [out-of-range]',
      '`b` must be above 0, but is 0 [out-of-range]',
    ]);
    expect(codes('{a: .inf, b: .nan, c: "5"}')).toEqual([
      '`a` must be a number, but is infinite [wrong-kind]',
      '`b` must be a number, but is not a number [wrong-kind]',
      '`c` must be a number, but is the text "5" [wrong-kind]\n    write it without quotes',
    ]);
  });

  it('is a plain number on the input side of the JSON Schema', () => {
    expect(z.toJSONSchema(all, { io: 'input' })).toMatchObject({
      properties: {
        a: { type: 'number', minimum: 0, maximum: 1_000_000 },
        b: { type: 'number', exclusiveMinimum: 0, maximum: 1_000_000 },
        c: { type: 'number', minimum: -1_000_000, maximum: 1_000_000 },
      },
      additionalProperties: false,
    });
  });
});
