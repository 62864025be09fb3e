/**
 * CSV as spreadsheets export it: byte-order mark, quotes, comma, semicolon and tab, each cell's place, ragged rows.
 * Source of the values: RFC 4180 for quoting; the semicolon and the decimal comma of European spreadsheets are common
 * practice, no source.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { csvAsSource, readCsv } from '../../src/source/csv.ts';
import { LIMITS } from '../../src/source/limits.ts';
import { validate } from '../../src/source/validate.ts';

const texts = (text: string): string[][] => {
  const read = readCsv(text, 'pins.csv');
  if (!read.ok) throw new Error(read.problems.map((p) => p.message).join('; '));
  return [read.value.header, ...read.value.rows].map((row) => row.map((cell) => cell.text));
};
const problems = (text: string): string[] => {
  const read = readCsv(text, 'pins.csv');
  return read.ok ? [] : read.problems.map((p) => `${p.place?.line}:${p.place?.column} ${p.code}`);
};

describe('readCsv', () => {
  it('recognises comma, semicolon and tab, also behind a byte-order mark and with any line end', () => {
    const rows = [
      ['pin', 'cell'],
      ['A', 'io_in'],
    ];
    expect(texts('pin,cell\nA,io_in\n')).toEqual(rows);
    expect(texts('\ufeffpin;cell\r\nA;io_in\r\n')).toEqual(rows);
    expect(texts('pin\tcell\rA\tio_in')).toEqual(rows);
    expect(texts('\n\n"pin";cell\n\nA;io_in\n;\n')).toEqual(rows);
  });

  it('reads quoted cells with separators, line ends and doubled quotes', () => {
    expect(texts('pin,note\nA,"a, ""b""\nc"\nB,d')).toEqual([
      ['pin', 'note'],
      ['A', 'a, "b"\nc'],
      ['B', 'd'],
    ]);
  });

  it('drops trailing columns that nothing fills', () => {
    expect(texts('pin,cell,,\nA,io_in,,\n')).toEqual([
      ['pin', 'cell'],
      ['A', 'io_in'],
    ]);
  });

  it('knows where each cell stands, after quoted lines, wide characters and empty cells too', () => {
    const read = readCsv('\ufeffpin;größe;😀\r\nA;"x\ny";b\r\n\r\n;é;c\r\n', 'pins.csv');
    if (!read.ok) throw new Error('unreadable');
    const places = [read.value.header, ...read.value.rows].map((row) =>
      row.map((cell) => `${cell.place.line}:${cell.place.column}`),
    );
    expect(places).toEqual([
      ['1:1', '1:5', '1:11'],
      ['2:1', '2:3', '3:4'],
      ['5:1', '5:2', '5:4'],
    ]);
  });

  it('refuses ragged rows, nameless and doubled columns, open quotes and empty files, each with its place', () => {
    expect(problems('pin,cell\nA\nB,b,c\nC,c\n')).toEqual(['2:1 csv-ragged', '3:5 csv-ragged']);
    expect(problems('pin,,cell\nA,b,c\n')).toEqual(['1:5 csv-header']);
    expect(problems('pin,pin\nA,b\n')).toEqual(['1:5 duplicate-key']);
    expect(problems('pin,__proto__\nA,b\n')).toEqual(['1:5 unsafe-key']);
    expect(problems('pin,cell\nA,"b\nc,d\n')).toEqual(['2:3 csv-syntax']);
    expect(problems('pin,cell\nA,b"c"\n')).toEqual(['2:3 csv-syntax']);
    expect(problems('pin,cell\nA,"b"c\n')).toEqual(['2:3 csv-syntax']);
    expect(problems(' \n,,\n')).toEqual(['1:1 csv-empty']);
    expect(problems('pin\nA\0\n')).toEqual(['2:2 not-a-text']);
  });

  it('stops at its limits', () => {
    expect(problems(`a${','.repeat(LIMITS.words + 1)}`)[0]).toMatch(/too-many-values/);
    expect(problems('a'.repeat(LIMITS.characters + 1))).toEqual(['1:1 file-too-long']);
  });

  it('takes any text without throwing, and what it reads comes back from the cells written anew', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 400 }), (text) => {
        const read = readCsv(text, 'f');
        for (const problem of read.ok ? [] : read.problems) expect(problem.code).not.toBe('');
      }),
      { numRuns: 600 },
    );
    const cell = fc.string({
      unit: fc.constantFrom('a', ',', ';', '"', '\n', ' ', 'é', '\t'),
      minLength: 1,
      maxLength: 6,
    });
    const table = fc
      .integer({ min: 1, max: 4 })
      .chain((n) => fc.array(fc.array(cell, { minLength: n, maxLength: n }), { minLength: 1, maxLength: 5 }));
    fc.assert(
      fc.property(table, fc.constantFrom(',', ';', '\t'), (rows, separator) => {
        const names = (rows[0] ?? []).map((_, i) => `c${i}`);
        const all = [names, ...rows.map((row) => row.map((text) => `x${text}`))];
        const text = all
          .map((row) => row.map((c) => `"${c.replaceAll('"', '""')}"`).join(separator))
          .join('\n');
        expect(texts(text)).toEqual(all);
      }),
      { numRuns: 300 },
    );
  });
});

describe('csvAsSource', () => {
  const entry = z.array(
    z.strictObject({ pin: z.string(), at: z.number().optional(), mirrored: z.boolean().optional() }),
  );

  it('gives rows as objects with numbers and yes or no where asked, a decimal comma only beside semicolons', () => {
    const read = readCsv('pin;at;mirrored\nA;12,5;yes\n7;;no\n', 'pins.csv');
    if (!read.ok) throw new Error('unreadable');
    const checked = validate(entry, csvAsSource(read.value, { at: 'number', mirrored: 'yes-no' }));
    expect(checked).toEqual({
      ok: true,
      notes: [],
      value: [
        { pin: 'A', at: 12.5, mirrored: true },
        { pin: '7', mirrored: false },
      ],
    });
    const comma = readCsv('pin,at\nA,"1,5"\n', 'pins.csv');
    if (!comma.ok) throw new Error('unreadable');
    expect(csvAsSource(comma.value, { at: 'number' }).value).toEqual([{ pin: 'A', at: '1,5' }]);
  });

  it('places a wrong value at its cell, an unknown column at its header', () => {
    const read = readCsv('pin,att,at\nA,,1\nB,3,soon\n', 'pins.csv');
    if (!read.ok) throw new Error('unreadable');
    const checked = validate(entry, csvAsSource(read.value, { at: 'number' }));
    if (checked.ok) throw new Error('passed');
    expect(checked.problems.map((p) => [p.place?.line, p.place?.column, p.code, p.mend])).toEqual([
      [3, 5, 'wrong-kind', undefined],
      [1, 5, 'unknown-key', 'did you mean `at`?'],
    ]);
  });
});
