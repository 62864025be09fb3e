/**
 * Reading YAML: plain data with places, and no text that gets through the limits or brings the reader down.
 * Source of the values: the YAML 1.2.2 specification for what is a text, a number or an alias; the limits are our own.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LIMITS } from '../../src/source/limits.ts';
import type { Source } from '../../src/source/source.ts';
import { readYaml } from '../../src/source/yaml.ts';

const source = (text: string): Source => {
  const read = readYaml(text, 'ring.yaml');
  if (!read.ok) throw new Error(read.problems.map((p) => p.message).join('; '));
  return read.value;
};
const problems = (text: string): string[] => {
  const read = readYaml(text, 'ring.yaml');
  return read.ok ? [] : read.problems.map((p) => `${p.place?.line}:${p.place?.column} ${p.code}`);
};

describe('readYaml', () => {
  it('gives plain data, keys as they are written', () => {
    expect(source('ring: tide\n007: [1, 0.5, x, true, ~, "1"]\nempty:\n').value).toEqual({
      ring: 'tide',
      '007': [1, 0.5, 'x', true, null, '1'],
      empty: null,
    });
    expect(source('').value).toBeNull();
    expect(source('\ufeffa: 1\r\nb: 2\r\n').value).toEqual({ a: 1, b: 2 });
  });

  it('knows where each value and key stands', () => {
    const read = source('\ufeffpads:\n  pitch: 70\n  list: [a, {b: 5}]\nempty:\n');
    const place = (path: (string | number)[]): number[] => {
      const [value, key] = [read.placeOf(path), read.placeOfKey(path)];
      return [value.line, value.column, key.line, key.column];
    };
    expect(place([])).toEqual([1, 1, 1, 1]);
    expect(place(['pads', 'pitch'])).toEqual([2, 10, 2, 3]);
    expect(place(['pads', 'list', 0])).toEqual([3, 10, 3, 10]);
    expect(place(['pads', 'list', 1, 'b'])).toEqual([3, 17, 3, 14]);
    expect(place(['pads', 'nothing', 'here'])).toEqual([2, 3, 1, 1]);
    expect(place(['empty'])[2]).toBe(4);
  });

  it('repeats what an alias names, and places it where it was written', () => {
    const read = source('a: &x {w: 5}\nb: *x\n');
    expect(read.value).toEqual({ a: { w: 5 }, b: { w: 5 } });
    expect(read.placeOf(['b', 'w'])).toEqual({ file: 'ring.yaml', line: 1, column: 11 });
  });

  it('refuses what is no plain data, each with its place', () => {
    expect(problems('a: 1\nb: 2\na: 3\nb: 4\n')).toEqual(['3:1 duplicate-key', '4:1 duplicate-key']);
    expect(problems('a: 1\n---\nb: 2\n')).toEqual(['2:1 several-documents']);
    expect(problems('%YAML 1.1\n---\na: yes\n')).toEqual(['1:1 yaml-version']);
    expect(problems('a:\n  __proto__: {b: 1}\n  constructor: 2\n')).toEqual([
      '2:3 unsafe-key',
      '3:3 unsafe-key',
    ]);
    expect(problems('a: !secret x\n')[0]).toMatch(/^1:4 yaml-(tag|syntax)$/);
    expect(problems('a: *b\n')[0]).toMatch(/^1:4 yaml-(alias|syntax)$/);
    expect(problems('a: &b [*b]\n')).toEqual(['1:8 yaml-alias']);
    expect(problems('[a]: 1\n? \n: 2\n')).toEqual(['1:1 yaml-key', '2:3 yaml-key']);
    expect(problems('a: 1\n\tb: 2\n')[0]).toMatch(/^2:\d yaml-syntax$/);
    expect(problems('a: b: c\n')[0]).toMatch(/^1:\d yaml-syntax$/);
    expect(problems('pitch 70\nwidth: 5\n')[0]).toMatch(/^\d:\d yaml-syntax$/);
    expect(problems('a: "open\n')[0]).toMatch(/yaml-syntax$/);
    expect(problems('a: x\0y')).toEqual(['1:5 not-a-text']);
  });

  it('keeps a key of an object apart from the object itself', () => {
    const { value } = source('toString: 1\n');
    expect(Object.getPrototypeOf(value)).toBeNull();
    expect(Object.keys(value as object)).toEqual(['toString']);
  });

  it('stops at depth, number of words, aliases that explode, and length', () => {
    expect(problems('['.repeat(LIMITS.depth + 5))).toEqual([`1:${LIMITS.depth + 2} too-deep`]);
    expect(problems('- '.repeat(100_000))[0]).toMatch(/^1:\d+ too-deep$/);
    expect(problems('a: '.repeat(100_000))[0]).toMatch(/^1:\d+ (too-deep|yaml-syntax)$/);
    expect(problems('- a\n'.repeat(1_000_000))[0]).toMatch(/^\d+:\d+ too-many-values$/);
    expect(problems('# a\n'.repeat(1_000_000))[0]).toMatch(/^\d+:\d+ too-many-values$/);
    expect(problems('\n'.repeat(1_000_000))[0]).toMatch(/^\d+:\d+ too-many-values$/);
    expect(problems(`[${'a,'.repeat(1_000_000)}]`)[0]).toMatch(/^1:\d+ too-many-values$/);
    expect(problems(`"${'\\x'.repeat(1_000_000)}"`)[0]).toMatch(/^1:1 too-many-values$/);
    const bomb = Array.from({ length: 9 }, (_, i) =>
      i === 0 ? 'a0: &a0 [x,x,x,x,x,x,x,x,x]\n' : `a${i}: &a${i} [${`*a${i - 1},`.repeat(9)}]\n`,
    ).join('');
    expect(problems(bomb)[0]).toMatch(/^\d:\d+ too-many-values$/);
    const ladder = Array.from({ length: 80 }, (_, i) =>
      i === 0 ? 'a0: &a0 [x]\n' : `a${i}: &a${i} [*a${i - 1}]\n`,
    ).join('');
    expect(problems(ladder)[0]).toMatch(/too-deep$/);
    expect(problems('a'.repeat(LIMITS.characters + 1))).toEqual(['1:1 file-too-long']);
  });

  it('reads tens of thousands of values of each shape', () => {
    const keys = Array.from({ length: 50_000 }, (_, i) => `k${i}: ${i}\n`).join('');
    const read = source(keys);
    expect(Object.keys(read.value as object)).toHaveLength(50_000);
    expect(read.placeOf(['k49999']).line).toBe(50_000);
    expect(source('- a\n'.repeat(70_000)).value).toHaveLength(70_000);
  });

  it('lists a hundred problems and counts the rest', () => {
    const read = readYaml('a: 1\n'.repeat(400), 'f');
    if (read.ok) throw new Error('passed');
    expect(read.problems).toHaveLength(LIMITS.problems + 1);
    expect(read.problems.at(-1)?.message).toBe('299 further problems are not listed');
  });

  it('takes any text without throwing: random bytes, and mutated good files', () => {
    const good = 'a: &x [1, "b", {c: d}]\nlist:\n  - *x\n  - |\n    text\n  - ? k\n    : v # note\n';
    const sign = fc.constantFrom(...'[]{}&*!|>\'"%@`:-?#,\n\t \\0a\r'.split(''));
    const cut = fc.tuple(fc.nat(good.length), fc.nat(5), fc.string({ unit: sign, maxLength: 6 }));
    const mutated = fc
      .array(cut, { maxLength: 6 })
      .map((cuts) => cuts.reduce((t, [at, gone, put]) => t.slice(0, at) + put + t.slice(at + gone), good));
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary', maxLength: 300 }),
          fc.string({ unit: sign, maxLength: 80 }),
          mutated,
        ),
        (text) => {
          const read = readYaml(text, 'f');
          for (const problem of read.ok ? [] : read.problems) {
            expect(problem.place?.line).toBeGreaterThan(0);
            expect(problem.message).not.toContain('\n');
          }
        },
      ),
      { numRuns: 1500 },
    );
  });
});
