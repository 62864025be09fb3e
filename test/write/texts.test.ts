/**
 * The text writers, against readers that are not ours: `JSON.parse` and the schema for `placement.json`,
 * csv-parse (RFC 4180) for `bond-pads.csv`, and the XML 1.0 rule for characters. Lengths of the samples are
 * invented.
 */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placementSchema } from '../../src/format/placement.ts';
import { BOND_PAD_COLUMNS, bondPadsCsv } from '../../src/write/bond-pads.ts';
import { nameField } from '../../src/write/csv.ts';
import { placementJson } from '../../src/write/json.ts';
import { mm, um } from '../../src/write/numbers.ts';
import { columns, summaryText } from '../../src/write/summary.ts';
import { clean, ems, inSentence, shorten, wrap } from '../../src/write/text.ts';
import { nameOfField } from '../helpers/csv.ts';
import { sample, spread } from './sample.ts';

const anyText = fc.string({ unit: 'binary', maxLength: 40 });

/** Shuffles the keys of every object, arrays kept: what a script may hand back. */
function turnedAround(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turnedAround);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, item]) => [key, turnedAround(item)]),
  );
}

describe('placement.json', () => {
  /** Source: the project's own promise (placement-file.md): keys in one order, valid against the schema. */
  it('reads back as the placement it was written from', () => {
    for (const style of ['inline', 'staggered', 'over-circuit', 'in-cell'] as const) {
      const placement = sample({ pads: spread(20), style });
      const read: unknown = JSON.parse(placementJson(placement));
      expect(read).toEqual(JSON.parse(JSON.stringify(placement)));
      expect(placementSchema.safeParse(read).success).toBe(true);
    }
  });

  it('has the same bytes whatever order the keys had', () => {
    const placement = sample({ pads: spread(20), style: 'staggered' });
    const neighbours = [{ kind: 'together' as const, pins: ['a', 'b'] }];
    const ruled = { ...placement, rules: { ...placement.rules, neighbours } };
    const records = { sections: ruled.sections };
    const mixed = { ...(turnedAround(ruled) as typeof ruled), ...records };
    expect(placementJson(mixed)).toBe(placementJson(ruled));
    expect(placementJson(ruled)).toContain('{"kind":"together","pins":["a","b"]}');
  });

  it('gives each cell and each pad one line, in the order of the schema', () => {
    const placement = sample({ pads: spread(20), style: 'inline' });
    const lines = placementJson(placement).split('\n');
    const top = lines.filter((line) => /^"\w+": /.test(line)).map((line) => line.split('"')[1]);
    expect(top).toEqual(Object.keys(placementSchema.shape).filter((key) => key in placement));
    expect(
      lines.filter((line) => line.startsWith('{"name":"') && line.includes('"footprint":')),
    ).toHaveLength(placement.cells.length);
    expect(lines.filter((line) => line.startsWith('{"number":'))).toHaveLength(20);
  });

  it('keeps a lane that is called __proto__', () => {
    const placement = sample({ pads: spread(20), style: 'inline' });
    const lanes = JSON.parse('{"__proto__":"VDD","a":"VSS"}') as Record<string, string>;
    const odd = { ...placement, sections: [{ name: 's', lanes, pairs: [] }] };
    expect(placementJson(odd)).toContain('{"name":"s","lanes":{"__proto__":"VDD","a":"VSS"},"pairs":[]}');
  });
});

describe('bond-pads.csv', () => {
  const read = (text: string) => parse(text, { columns: true }) as Record<string, string>[];

  /** Source: RFC 4180, read by csv-parse; on silicon is drawn times the shrink (ring-model section 1). */
  it('reads back as the placement, on silicon', () => {
    for (const shrink of [1, 0.9]) {
      const placement = sample({ pads: spread(21), style: 'staggered', shrink });
      const rows = read(bondPadsCsv(placement));
      expect(rows).toHaveLength(21);
      expect(Object.keys(rows[0] ?? {})).toEqual([...BOND_PAD_COLUMNS]);
      rows.forEach((row, i) => {
        const pad = placement.bondPads.find(({ number }) => number === i + 1);
        const { width, height } = placement.die;
        expect(row.number).toBe(String(i + 1));
        expect([row.pin, row.net, row.row]).toEqual([pad?.pin, pad?.net, pad?.row]);
        const figures: readonly (readonly [string, number])[] = [
          ['x_from_centre_um', (pad?.x ?? 0) - width / 2],
          ['y_from_centre_um', (pad?.y ?? 0) - height / 2],
          ['x_from_corner_um', pad?.x ?? 0],
          ['y_from_corner_um', pad?.y ?? 0],
          ['opening_width_um', pad?.opening.width ?? 0],
          ['opening_height_um', pad?.opening.height ?? 0],
        ];
        for (const [column, drawn] of figures) expect(Number(row[column])).toBeCloseTo(drawn * shrink, 6);
      });
    }
  });

  it('keeps numbers in order, and ends each line as RFC 4180 has it', () => {
    const placement = sample({ pads: spread(20), style: 'inline' });
    const text = bondPadsCsv({ ...placement, bondPads: placement.bondPads.toReversed() });
    expect(text).toBe(bondPadsCsv(placement));
    expect(text.split('\r\n')).toHaveLength(22);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  /**
   * Source: OWASP, CSV injection, from memory: = + - @, tab and carriage return at the start of a cell, also
   * behind whatever the spreadsheet takes for a separator; full-width signs too.
   */
  it('lets no name become a formula, whatever a spreadsheet splits at', () => {
    const risky = fc.stringMatching(/^[=+\-@\t\r\n;,|'"a\uff1d\uff20 ]{0,12}$/);
    fc.assert(
      fc.property(fc.oneof(anyText, risky), (name) => {
        const field = nameField(name);
        const rows = parse(`1,${field},2\r\n`) as string[][];
        const [first] = rows;
        expect(rows).toHaveLength(1);
        expect(first?.[0]).toBe('1');
        expect(first?.[2]).toBe('2');
        const value = first?.[1] ?? '';
        expect(nameOfField(value)).toBe(name);
        for (const part of value.split(/[;,|\t\r\n]/))
          expect(part).not.toMatch(/^"*[=+\-@\uff1d\uff0b\uff0d\uff20]/);
      }),
      { numRuns: 3000 },
    );
    expect(nameField('=1+1')).toBe(`"'=1+1"`);
    expect(nameField('+5V')).toBe(`"'+5V"`);
    expect(nameField('gpio<3>')).toBe('gpio<3>');
  });
});

describe('texts of a drawing', () => {
  /** Source: XML 1.0, section 2.2: tab, line feed, carriage return, and from a blank on but surrogates, FFFE, FFFF. */
  it('hold only what XML can hold, whatever the name', () => {
    fc.assert(
      fc.property(fc.oneof(anyText, fc.string({ unit: 'grapheme' })), (name) => {
        const text = clean(name);
        expect(() => encodeURIComponent(text)).not.toThrow();
        for (const letter of text) {
          const point = letter.codePointAt(0) ?? 0;
          expect(point).toBeGreaterThanOrEqual(0x20);
          expect(point & 0xffff).toBeLessThan(0xfffe);
        }
        expect(text).not.toMatch(/[\u202a-\u202e\u2066-\u2069\u200e\u200f]/);
        expect(clean(text)).toBe(text);
      }),
    );
    expect(clean('a\u0000b\u001bc\ud800')).toBe('a\u2400b\u241bc\ufffd');
  });

  /** Source: Unicode Standard Annex 9, first strong isolate and pop directional isolate. */
  it('isolate a name that is written from right to left', () => {
    expect(inSentence('\u05d0\u05d1 1')).toBe('\u2068\u05d0\u05d1 1\u2069');
    expect(inSentence('vdd')).toBe('vdd');
  });

  it('are cut and wrapped to a width, with nothing lost in wrapping', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme', maxLength: 60 }),
        fc.double({ min: 2, max: 30, noNaN: true }),
        (name, most) => {
          const text = clean(name);
          expect(ems(shorten(text, most))).toBeLessThanOrEqual(most + 1e-9);
          const lines = wrap(text, most);
          for (const line of lines) expect(ems(line)).toBeLessThanOrEqual(most + 1e-9);
          expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
        },
      ),
    );
  });

  it('give lengths without noise, exponents or a minus zero', () => {
    expect([um(0.1 + 0.2), um(-0), um(1e-7), um(100), um(2385.5), mm(-0.0001)]).toEqual([
      '0.3',
      '0',
      '0',
      '100',
      '2385.5',
      '0',
    ]);
  });
});

describe('summary', () => {
  const findings = [
    { rule: 'pitch', severity: 'warning' as const, message: 'w'.repeat(200), items: [], x: 1, y: 2 },
    { rule: 'open', severity: 'error' as const, message: 'an arc is open', items: ['a'] },
    {
      rule: 'shift',
      severity: 'error' as const,
      message: 'moved',
      items: [],
      waived: 'agreed with the house',
    },
  ];

  it('tells die, pads by side, least pitch, fillers, arcs and findings within 80 columns', () => {
    const placement = sample({ pads: spread(120), style: 'staggered', findings });
    const text = summaryText(placement);
    for (const line of text.split('\n')) expect(columns(line)).toBeLessThanOrEqual(80);
    expect(text).toContain(`die   ${placement.die.width} x ${placement.die.height} um`);
    expect(text).toMatch(/left +staggered +30 +30 +80 +70/);
    expect(text).toMatch(/fillers: \d+ fill-20, \d+ fill-5/);
    expect(text).toContain('vss VSS, closed, through');
    expect(text).toMatch(/error: an arc is open[\s\S]+warning:\s+www/);
    expect(text).toContain('waived (agreed with the house): moved [shift]');
  });

  it('passes no control character on to the terminal, and holds its width with any name', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', minLength: 1, maxLength: 90 }), (ring) => {
        const text = summaryText(
          sample({ ring, pads: spread(4), style: 'inline', pinName: (i) => `${ring}${i}` }),
        );
        for (const line of text.split('\n')) {
          expect(columns(line)).toBeLessThanOrEqual(80);
          expect([...line].every((letter) => (letter.codePointAt(0) ?? 0) >= 0x20)).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('says so where there is nothing', () => {
    const empty = sample({ pads: { left: 0, bottom: 0, right: 0, top: 0 }, style: 'inline' });
    const text = summaryText({
      ...empty,
      rails: [],
      cells: empty.cells.filter(({ role }) => role !== 'filler'),
    });
    expect(text).toContain('fillers: none');
    expect(text).toContain('arcs: none');
    expect(text).toContain('no findings');
  });
});
