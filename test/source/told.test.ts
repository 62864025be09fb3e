/**
 * Shows: what the readers tell of a text that is wrong. What is never closed is told where it opens, what follows from
 * an error is not told again, and every problem says how to mend it. Source: a review; the places are counted in the
 * texts that stand here.
 */
import { describe, expect, it } from 'vitest';
import { layRing } from '../../src/index.ts';
import { readLef } from '../../src/library/lef/read.ts';
import { readCsv } from '../../src/source/csv.ts';
import { readYaml } from '../../src/source/yaml.ts';
import { against, CELLS, problemsOf, RING, swap } from '../helpers/starter.ts';
import { macro, readFiles } from '../library/small.ts';

describe('syntax', () => {
  const told = (text: string): readonly string[] =>
    problemsOf(readYaml(text, 'ring.yaml')).map(
      ({ place, message, mend }) => `${place?.line}:${place?.column} ${message}; ${mend}`,
    );

  it('brackets and quotes are told where they open', () => {
    expect(told('s:\n  - {pin: A, cell: io\n  - {pin: B, cell: io}\n')).toEqual([
      '2:5 the `{` here is never closed; close it with `}` where the group ends',
    ]);
    expect(told('a: [1, {b: 2]\nc: 1\n').map((text) => text.slice(0, 13))).toEqual([
      '1:8 the `{` h',
      '1:4 the `[` h',
    ]);
    expect(told('a: {b: 1}\nc: "x\nd: 2\n')).toEqual([
      '2:4 the quotes that open here are never closed; close them with double quotes where the text ends',
    ]);
    expect(told("a: 'x\nd: 2\n")[0]).toMatch(/^1:4 the quotes .* single quotes/);
  });

  it('brackets that close nothing, and what follows from them once', () => {
    expect(told('a: {b: 1}}\nc: 1\nd: 2\n')).toEqual([
      '1:10 the `}` here closes nothing; take it away, or look for a missing `{` before it',
    ]);
  });

  it('lines that are indented less or more than those they belong with', () => {
    expect(told('  a: 1\nb: 2\nc: 3\n').map((text) => text.slice(0, 8))).toEqual(['2:1 what']);
    expect(told('a: 1\n b: 2\n')).toEqual([
      expect.stringMatching(/^1:4 the text that begins here goes on in the next line/),
    ]);
  });

  it('a comma that is missing in brackets', () => {
    expect(told('a: {pin: A cell: B}\n')[0]).toContain('look for a missing comma');
    expect(told('a: ["x" "y"]\n')).toEqual([
      '1:9 a comma is missing between two things in brackets; put one before this',
    ]);
  });

  it('carriage returns alone end lines', () => {
    const text = RING.replaceAll('\n', '\r');
    expect(against(text, CELLS.replaceAll('\n', '\r'))).toEqual([]);
    expect(against(swap(text, 'pitch: 70', 'pich: 70')).map(({ place }) => place?.line)).toContain(
      RING.slice(0, RING.indexOf('pitch: 70')).split('\n').length,
    );
    expect(problemsOf(readCsv('a,b\r1,2\r3\r', 'pins.csv'))[0]?.place?.line).toBe(3);
    const lef = '# a comment\rMACRO a\r SIZE 6 BY 5 ;\rEND a\r';
    expect(problemsOf(readLef(lef, 'io.lef'))).toEqual([]);
    expect(problemsOf(readLef(lef.replace('6', 'x'), 'io.lef'))[0]?.place).toMatchObject({
      line: 3,
      column: 2,
    });
  });

  it('a tag of bytes is no plain data', () => {
    expect(problemsOf(readYaml('a: !!binary x\n', 'ring.yaml')).map(({ code }) => code)).toEqual([
      'yaml-tag',
    ]);
  });

  it('keys that are to be merged', () => {
    const [first, second] = against(swap(RING, 'core:', '<<: {a: 1}\nno: 1\ncore:'));
    expect(first).toMatchObject({ code: 'unknown-key', mend: expect.stringContaining('not merged') });
    expect(second?.mend).toMatch(/^the keys here are/);
  });
});

describe('how to mend it', () => {
  const cell = (from: string, to: string) => against(RING, swap(CELLS, from, to));
  const lef = (text: string) => problemsOf(readLef(text, 'io.lef'));
  const csv = (text: string) => problemsOf(readCsv(text, 'pins.csv'));
  const yaml = (text: string) => problemsOf(readYaml(text, 'ring.yaml'));
  const table = (pins: string) => {
    const text = `${RING.slice(0, RING.indexOf('# The pins of each side'))}pins: pins.csv\n`;
    const outcome = layRing({ 'ring.yaml': text, 'cells.yaml': CELLS, 'pins.csv': pins }, 'ring.yaml');
    return outcome.kind === 'laid' ? [] : outcome.problems;
  };

  it('numbers with a decimal comma, or with a unit', () => {
    const width = (text: string) => against(swap(RING, 'width: 840', `width: ${text}`))[0]?.mend;
    expect(width('"840,5"')).toBe('write it with a decimal point: 840.5');
    expect(width('840um')).toBe('write the number alone, in the unit of this key');
    expect(width('0.84 mm')).toBe('write the number alone, in the unit of this key');
    expect(width('wide')).toMatch(/^it is the die's width/);
  });

  it.each([
    ['yaml-alias', () => yaml('a: *b\n')],
    ['yaml-alias', () => yaml('a: &b [*b]\n')],
    ['yaml-key', () => yaml('[a]: 1\n')],
    ['unsafe-key', () => yaml('__proto__: 1\n')],
    ['too-deep', () => yaml('['.repeat(100))],
    ['too-fine', () => against(swap(RING, 'width: 840', 'width: 840.0000001'))],
    ['strip-extent', () => cell('[[10, 40]]', '[[40, 10]]')],
    ['strips-overlap', () => cell('[[45, 75]]', '[[35, 75]]')],
    ['outside-cell', () => cell('{name: pad, at: 30}', '{name: pad, at: 61}')],
    [
      'outside-cell',
      () =>
        cell(
          'clamps: [{supply: VDD, ground: VSS}]',
          'clamps: [{supply: VDD, ground: VSS}]\n    straps: [{lane: VDD, layer: M4, at: 50, width: 20.000002, t: 95}]',
        ),
    ],
    [
      'strips-disagree',
      () =>
        problemsOf(
          readFiles({
            'cells.yaml': 'name: x\nlef: [io.lef]\ndrawn: {outward: left}\n',
            'io.lef': macro('f', 'PAD SPACER', [5, 120], [{ pin: 'VDD', rects: [[0, 10, 5, 40]] }]),
          }),
        ),
    ],
    ['clamp-to-itself', () => cell('{supply: VDD, ground: VSS}', '{supply: VDD, ground: VDD}')],
    ['csv-empty', () => csv('\n\n')],
    ['csv-header', () => csv('side,,cell\na,b,c\n')],
    ['duplicate-key', () => csv('side,side\na,b\n')],
    ['missing-column', () => table('side,pin\nleft,A\n')],
    ['csv-ragged', () => csv('side,cell\na\n')],
    ['no-header', () => table('left,A,io\n')],
    ['no-header', () => table('side|pin|cell\nleft|A|io\n')],
    ['lef-empty', () => lef('# nothing\n')],
    ['lef-number', () => lef('MACRO a\n SIZE x BY 5 ;\nEND a')],
    ['lef-syntax', () => lef('MACRO a\n SIZE 0 BY 5 ;\nEND a')],
    ['lef-syntax', () => lef('MACRO a\n SIZE 6 BY 5\nEND a')],
    ['lef-syntax', () => lef('MACRO a\n SIZE 6 BY 5 ;\n')],
    ['lef-syntax', () => lef('END\n')],
  ] as const)('%s', (code, problems) => {
    const told = problems();
    expect(told.map((one) => one.code)).toContain(code);
    for (const one of told) expect(one).toMatchObject({ mend: expect.any(String), place: expect.anything() });
  });
});
