/**
 * No cell file and no LEF brings the library's reading down: a library or problems with places, soon, and never an exception.
 * Source of the values: mutated files of the project; the limits are our own.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proposeCellFile } from '../../src/library/propose.ts';
import { macro, readFiles } from './small.ts';

const harbour = readFileSync('fixtures/cells/harbour.cells.yaml', 'utf8');
const lef =
  macro(
    's',
    'PAD INPUT',
    [40, 100],
    [
      { pin: 'VDD', rects: [[0, 50, 40, 60]] },
      { pin: 'pad', use: 'SIGNAL', rects: [[5, 0, 35, 3]] },
    ],
  ) +
  macro(
    'c',
    'PAD SPACER',
    [99, 99],
    [
      {
        pin: 'VDD',
        rects: [
          [97, 50, 99, 60],
          [50, 97, 60, 99],
        ],
      },
    ],
  ) +
  macro('f', 'PAD SPACER', [10, 100], [{ pin: 'VDD', rects: [[0, 50, 10, 60]] }]);
const drawn =
  'name: l\nlef: [a.lef]\ndrawn: {stubs: joined}\ncells:\n  c: {role: corner}\n  f: {standsAlone: false}\n';

/** A text with a few places cut out and something put in. */
const mutated = (text: string, put: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc
    .array(fc.tuple(fc.nat(text.length), fc.nat(12), put), { minLength: 1, maxLength: 5 })
    .map((cuts) => cuts.reduce((t, [at, gone, word]) => t.slice(0, at) + word + t.slice(at + gone), text));

const yamlWords = fc.constantFrom(
  ...[
    '[',
    ']',
    '{',
    '}',
    ': ',
    ', ',
    '0',
    '-1',
    '1e9',
    '.inf',
    '.nan',
    'VDD',
    'corner',
    '*thin',
    '&a ',
    '~',
    '"',
    '\n',
    '  ',
  ],
  ...[
    '__proto__',
    'constructor',
    'cuts: [VDD]',
    'onVertical: vdd',
    'needs: [corner]',
    'ties: [[VDD, VSS]]',
    'role: break',
  ],
);
const lefWords = fc.constantFrom(
  ...[
    'END',
    'MACRO',
    'PIN',
    ';',
    'RECT 0 0 0 0 ;',
    'CLASS PAD ;',
    'USE POWER ;',
    '-1',
    '1e5',
    '0',
    'ORIGIN 5 5 ;',
    'SIZE 0 BY 1 ;',
  ],
  ...['CLASS ENDCAP TOPLEFT ;', 'LAYER', 'POLYGON 0 0 9 9 0 9 ;', 'SYMMETRY ;', 'pad', 'VDD', '"', '#'],
);

function holds(files: Readonly<Record<string, string>>): void {
  const read = readFiles(files);
  for (const problem of read.ok ? read.notes : read.problems) {
    expect(problem.message).not.toMatch(/\n|undefined|\[object/);
    expect(problem.place === undefined ? problem.code : problem.place.line).toSatisfy(
      (one: unknown) => one === 'more-problems' || Number(one) > 0,
    );
  }
  if (!read.ok) return;
  for (const f of read.value.footprints.values()) {
    expect(f.width > 0 && f.depth > 0 && f.setback >= 0).toBe(true);
    for (const { strips } of f.lanes)
      for (const { from, to } of strips)
        expect(from >= 0 && from < to && to <= Math.max(f.width, f.depth)).toBe(true);
    for (const { at } of f.landings) expect(at <= f.width).toBe(true);
  }
}

describe('reading a library', () => {
  it('takes any cell file', () => {
    fc.assert(
      fc.property(
        fc.oneof(mutated(harbour, yamlWords), fc.string({ unit: 'binary', maxLength: 200 })),
        (text) => holds({ 'cells.yaml': text }),
      ),
      { numRuns: 150 },
    );
  });

  it('takes any LEF beside any cell file, and proposes from it or says why not', () => {
    fc.assert(
      fc.property(
        mutated(lef, lefWords),
        fc.oneof(fc.constant(drawn), mutated(drawn, yamlWords)),
        (text, cells) => {
          holds({ 'cells.yaml': cells, 'a.lef': text });
          const proposed = proposeCellFile([{ path: 'a.lef', text }], 'cells.yaml');
          for (const problem of proposed.ok ? [] : proposed.problems)
            expect(problem.message).not.toMatch(/\n|undefined/);
          if (proposed.ok) holds({ 'cells.yaml': proposed.value.yaml, 'a.lef': text });
        },
      ),
      { numRuns: 300 },
    );
  });

  it('stops at too many cells, lanes, strips and shapes', () => {
    const code = (cells: string, text = ''): string[] => {
      const read = readFiles({ 'cells.yaml': cells, 'a.lef': text });
      return read.ok ? [] : read.problems.map((p) => `${p.code}: ${p.message}`);
    };
    const many = (count: number, one: (i: number) => string): string =>
      Array.from({ length: count }, (_, i) => one(i)).join('');
    const fill = (i: number): string => `MACRO f${i} CLASS PAD SPACER ; SIZE 1 BY 9 ; END f${i}\n`;
    const pin = (i: number): string =>
      `PIN p${i} USE POWER ; PORT LAYER M ; RECT 0 ${i} 1 ${i}.5 ; END END p${i}\n`;
    const alone = 'name: l\nlef: [a.lef]\n';
    expect(code(alone, many(10_001, fill))).toEqual([
      'library-too-large: the library has 10001 cells; at most 10000 are read',
    ]);
    expect(code(alone, `MACRO a CLASS PAD SPACER ; SIZE 1 BY 999 ; ${many(101, pin)} END a`)).toEqual([
      'library-too-large: the library has 101 lanes; at most 100 are read',
    ]);
    const rects = many(20_001, (i) => `RECT 0 ${i} 1 ${i}.5 ; `);
    expect(
      code(alone, `MACRO a CLASS PAD SPACER ; SIZE 1 BY 1e5 ; PIN p PORT LAYER M ; ${rects} END END p END a`),
    ).toEqual(['library-too-large: the library has 20001 shapes in `a`; at most 20000 are read']);
    const strips = many(1000, (i) => `[${i}, ${i}.5],`);
    const cells = many(500, (i) => `  c${i}: {role: filler, width: 1, height: 1000}\n`);
    expect(code(`name: l\nlanes: {V: {strips: {M: [${strips}]}}}\ncells:\n${cells}`)).toEqual([
      'library-too-large: the library has 500000 strips; at most 400000 are read',
    ]);
  });

  it('lists a hundred problems and counts the rest', () => {
    const cells = Array.from(
      { length: 300 },
      (_, i) => `  c${i}: {role: signal, width: 1, height: 9}\n`,
    ).join('');
    const read = readFiles({ 'cells.yaml': `name: l\ncells:\n${cells}` });
    expect(read.ok ? [] : read.problems.map((p) => p.message).slice(99)).toEqual([
      'nothing tells where a bond pad joins `c99`, whose role is signal: the cell file lists none',
      '200 further problems are not listed',
    ]);
  });
});
