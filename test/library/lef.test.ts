/**
 * The LEF reader: words, macros, pins, shapes, layers; errors with their places; and no text that it throws or hangs on.
 * Source of the values: the LEF/DEF language reference 5.8, from memory; the cases are written by hand.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Lef, LefMacro } from '../../src/library/lef/lef.ts';
import { readLef } from '../../src/library/lef/read.ts';
import { LEF_LIMITS } from '../../src/library/lef/statements.ts';
import { LIBRARIES, lefTexts, thereAre } from './open.ts';

const lef = (text: string): Lef => {
  const read = readLef(text, 'io.lef');
  if (!read.ok) throw new Error(read.problems.map((p) => `${p.place?.line} ${p.message}`).join('; '));
  return read.value;
};
const macro = (body: string): LefMacro => {
  const [first] = lef(`MACRO m\n${body}\nEND m\n`).macros;
  if (!first) throw new Error('no macro');
  return first;
};
/** The rectangles of a pin as x1 y1 x2 y2 in micrometres. */
const rects = (port: string, before = ''): number[][] =>
  (macro(`${before} PIN p PORT LAYER M1 ; ${port} END END p`).pins[0]?.shapes ?? []).map((s) =>
    [s.x, s.y, s.x + s.width, s.y + s.height].map((n) => n / 1e6),
  );
const problems = (text: string): string[] => {
  const read = readLef(text, 'io.lef');
  return read.ok
    ? []
    : read.problems.map((p) => `${p.place?.line}:${p.place?.column} ${p.code} ${p.message}`);
};

describe('readLef', () => {
  it('passes over what it does not need: other blocks, quotes, comments, extensions, keywords in small letters', () => {
    const read = lef(`VERSION 5.8 ; BUSBITCHARS "[]" ; DIVIDERCHAR "/" ;
      # MACRO not_this
      UNITS DATABASE MICRONS 1000 ; END UNITS
      PROPERTYDEFINITIONS LAYER x STRING ; MACRO y REAL 3 ; END PROPERTYDEFINITIONS
      SITE s CLASS PAD ; SIZE 1 BY 100 ; END s
      Via v DEFAULT LAYER M1 ; RECT 0 0 1 1 ; END v
      VIARULE r GENERATE LAYER M1 ; END r
      BEGINEXT "tag" MACRO not_this_either ; ENDEXT
      MACRO a#1 CLASS PAD INPUT ; PROPERTY note "MACRO b ; END a#1" ; SIZE 5 BY 10;
        OBS LAYER M1 ; RECT 0 0 5 10 ; END
        DENSITY LAYER M1 ; RECT 0 0 5 10 45 ; END
      END a#1
      END LIBRARY
      MACRO behind_the_end`);
    expect(read.macros.map((m) => [m.name, m.classes, m.size])).toEqual([
      ['a#1', ['PAD', 'INPUT'], { width: 5e6, height: 10e6 }],
    ]);
    expect(read.layers).toEqual([]);
  });

  it('reads class, size, symmetry, pins with direction, use and shapes', () => {
    const m = macro(`CLASS PAD POWER ; FOREIGN m 0 0 ; SIZE 80 BY 180.5 ; SYMMETRY X R90 ;
      PIN VDD DIRECTION INOUT ; USE POWER ; SHAPE ABUTMENT ;
        PORT CLASS CORE ; LAYER M1 ; RECT MASK 1 0 1 2.000001 3 ; LAYER M2 SPACING 0.1 ; RECT 5 7 4 6 ; END
        PORT LAYER M3 ; VIA 1 1 v1 ; RECT ( 0 0 ) ( 1 1 ) ; END
      END VDD
      PIN Y DIRECTION OUTPUT TRISTATE ; END Y
      PIN A END A`);
    expect(m).toMatchObject({
      classes: ['PAD', 'POWER'],
      size: { width: 80e6, height: 180.5e6 },
      symmetry: ['X', 'R90'],
      foreignOffset: false,
      place: { file: 'io.lef', line: 1, column: 7 },
    });
    expect(m.pins.map((p) => [p.name, p.direction, p.use, p.shapes.length])).toEqual([
      ['VDD', 'INOUT', 'POWER', 3],
      ['Y', 'OUTPUT', 'SIGNAL', 0],
      ['A', 'INPUT', 'SIGNAL', 0],
    ]);
    expect(m.pins[0]?.shapes).toEqual([
      { layer: 'M1', x: 0, y: 1e6, width: 2_000_001, height: 2e6 },
      { layer: 'M2', x: 4e6, y: 6e6, width: 1e6, height: 1e6 },
      { layer: 'M3', x: 0, y: 0, width: 1e6, height: 1e6 },
    ]);
  });

  it('applies ORIGIN, and tells of a FOREIGN that is set off', () => {
    expect(rects('RECT 0 -1 2 0 ;', 'ORIGIN 1 1 ;')).toEqual([[1, 0, 3, 1]]);
    expect(macro('FOREIGN gds 0.5 0 ;').foreignOffset).toBe(true);
    expect(macro('FOREIGN gds ;').foreignOffset).toBe(false);
  });

  it('takes polygons, paths and repeated rectangles as rectangles', () => {
    // An L and a cross, cut into upright slabs.
    expect(rects('POLYGON 0 0 4 0 4 1 1 1 1 3 0 3 ;')).toEqual([
      [0, 0, 1, 3],
      [1, 0, 4, 1],
    ]);
    expect(rects('POLYGON 1 0 2 0 2 1 3 1 3 2 2 2 2 3 1 3 1 2 0 2 0 1 1 1 ;')).toEqual([
      [0, 1, 1, 2],
      [1, 0, 2, 3],
      [2, 1, 3, 2],
    ]);
    // A slab of a triangle covers only what the whole slab covers: nothing, where it tapers to a point.
    expect(rects('POLYGON 0 0 4 0 4 2 2 2 ;')).toEqual([[2, 0, 4, 2]]);
    expect(rects('WIDTH 2 ; PATH 1 1 5 1 5 4 ;')).toEqual([
      [0, 0, 6, 2],
      [4, 0, 6, 5],
    ]);
    expect(rects('RECT ITERATE 0 0 1 1 DO 2 BY 2 STEP 10 20 ;')).toEqual([
      [0, 0, 1, 1],
      [10, 0, 11, 1],
      [0, 20, 1, 21],
      [10, 20, 11, 21],
    ]);
  });

  it('reads what layers say of resistance and current, a table by width too', () => {
    const { layers } = lef(`LAYER M1 TYPE ROUTING ; WIDTH 0.2 ; THICKNESS 0.45 ; RESISTANCE RPERSQ 0.103 ;
        ACCURRENTDENSITY AVERAGE FREQUENCY 100 ; WIDTH 5 6 ; TABLEENTRIES 9 9 ;
        DCCURRENTDENSITY AVERAGE WIDTH 0.2 10 ; TABLEENTRIES 2.5 2 ; END M1
      LAYER V1 TYPE CUT ; RESISTANCE 20 ; DCCURRENTDENSITY AVERAGE 0.4 ; END V1`);
    expect(layers).toEqual([
      {
        name: 'M1',
        type: 'ROUTING',
        width: 200_000,
        thickness: 450_000,
        sheetResistance: 0.103,
        currentDensity: [
          { width: 200_000, limit: 2.5 },
          { width: 10_000_000, limit: 2 },
        ],
      },
      {
        name: 'V1',
        type: 'CUT',
        width: null,
        thickness: null,
        sheetResistance: null,
        currentDensity: [{ width: null, limit: 0.4 }],
      },
    ]);
  });

  it('tells what is wrong and where, all at once', () => {
    expect(
      problems('MACRO a\n SIZE 5 BY x ;\n PIN p\n  PORT\n   RECT 0 0 1 1 ;\n  END\n END q\n END p\nEND a'),
    ).toEqual([
      '2:2 lef-number `SIZE` needs a number, but has `x`',
      '5:4 lef-syntax a `RECT` stands before any `LAYER`',
      '7:2 lef-syntax the pin `p` ends with `END q`',
    ]);
    expect(problems('MACRO a\n CLASS PAD\nEND a')).toEqual([
      '2:2 lef-syntax the statement `CLASS` has no `;` at its end',
    ]);
    expect(problems('MACRO a SIZE 1 BY 1 ;\nMACRO b\n')).toEqual([
      '1:21 lef-syntax the macro `a` has no `END` before the next one',
      '3:1 lef-syntax the macro `b` has no `END`',
    ]);
    expect(problems('MACRO a\n PIN p PORT LAYER x ; RECT 0 0 1 ; RECT 0 0 1e9 1 ; END END p END a')).toEqual([
      '2:23 lef-syntax a corner of this `RECT` lacks its y',
      '2:23 lef-syntax a `RECT` needs two corners',
      '2:36 lef-number `RECT` has 1000000000 micrometres, which is more than a metre',
    ]);
    expect(problems('SITE s\n')).toEqual(['1:6 lef-syntax the block `SITE s` has no end']);
    expect(problems('BEGINEXT "x" ;')).toEqual(['1:1 lef-syntax the block `BEGINEXT` has no end']);
    expect(problems('MACRO a SIZE 1 BY 1 ; PROPERTY x "open ;\nEND a')[0]).toMatch(/^1:34 lef-syntax quotes/);
    expect(problems('END x MACRO a END a')[0]).toMatch(/^1:5 lef-syntax an `END`/);
    expect(problems('')).toEqual(['1:1 lef-empty the file holds no LEF macro and no LEF layer']);
    expect(problems('# nothing ; here')).toEqual([
      '1:1 lef-empty the file holds no LEF macro and no LEF layer',
    ]);
  });

  it('notes statements that it does not know', () => {
    const read = readLef('FUTURE 1 2 ; MACRO a END a', 'io.lef');
    expect(read.ok && read.notes.map((note) => note.message)).toEqual([
      'the statement `FUTURE` is passed over',
    ]);
  });

  it('stops at its limits', () => {
    const port = (shapes: string): string[] =>
      problems(`MACRO a PIN p PORT LAYER x ; ${shapes} END END p END a`);
    expect(port('RECT 0 0 1 1 ; '.repeat(LEF_LIMITS.shapes + 1))[0]).toMatch(/lef-too-large/);
    expect(port('RECT ITERATE 0 0 1 1 DO 100 BY 100 STEP 1 1 ; '.repeat(20_000))[0]).toMatch(/lef-too-large/);
    expect(port('RECT ITERATE 0 0 1 1 DO 1e9 BY 1e9 STEP 1 1 ;')[0]).toMatch(/lef-syntax `DO`/);
    expect(port(`POLYGON ${'0 1 '.repeat(LEF_LIMITS.corners + 1)};`)[0]).toMatch(/lef-too-large/);
    expect(port(`RECT ${'1 '.repeat(1_000_000)};`)[0]).toMatch(/lef-too-large/);
    expect(problems('MACRO a '.repeat(300_000))).toHaveLength(LEF_LIMITS.problems);
    expect(problems('"'.repeat(2_000_001))[0]).toMatch(/lef-syntax/);
  });

  it('takes any text without throwing, and every problem has a place', () => {
    const words =
      'MACRO a END PIN p PORT LAYER RECT POLYGON PATH WIDTH SIZE BY ; OBS CLASS PAD "x" " # 1 -2.5 1e400 DO STEP UNITS \n'.split(
        ' ',
      );
    const sample = thereAre
      ? (lefTexts(LIBRARIES[1].folder)[3]?.text.slice(600, 3000) ?? '')
      : 'MACRO a END a';
    const cut = fc.tuple(fc.nat(sample.length), fc.nat(40), fc.constantFrom(...words));
    const mutated = fc
      .array(cut, { minLength: 1, maxLength: 8 })
      .map((cuts) => cuts.reduce((t, [at, gone, put]) => t.slice(0, at) + put + t.slice(at + gone), sample));
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary', maxLength: 300 }),
          fc.array(fc.constantFrom(...words), { maxLength: 60 }).map((list) => list.join(' ')),
          mutated,
        ),
        (text) => {
          const read = readLef(text, 'f');
          for (const problem of read.ok ? read.notes : read.problems) {
            expect(problem.place?.line).toBeGreaterThan(0);
            expect(problem.message).not.toMatch(/\n/);
          }
        },
      ),
      { numRuns: 2500 },
    );
  });

  it.runIf(thereAre)('reads a library of 20 MB', () => {
    const [cells] = lefTexts(LIBRARIES[0].folder);
    const text = (cells?.text ?? '').replaceAll(/^(MACRO|END) (sg13g2_)(?!ioS|cornerS)/gm, '$1 COPY_$2');
    const copies = Math.ceil(20e6 / text.length);
    const long = Array.from({ length: copies }, (_, i) => text.replaceAll('COPY_', `c${i}_`)).join('\n');
    expect(lef(long).macros).toHaveLength(22 * copies);
  });
});
