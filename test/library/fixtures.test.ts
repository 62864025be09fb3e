/**
 * The invented library of the demonstrations, and the published JSON Schema of cell files.
 * Source of the values: the fixture itself; JSON Schema draft 2020-12, judged by ajv.
 */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { cellFileJsonSchema } from '../../src/library/cell-file.ts';
import type { Footprint, Role } from '../../src/library/footprint.ts';
import { libraryAt } from './open.ts';

const HARBOUR = 'fixtures/cells/harbour.cells.yaml';

describe('the harbour library', () => {
  const { footprints, layers } = libraryAt(HARBOUR);
  const of = (name: string): Footprint | undefined => footprints.get(name);
  const through = (name: string): string[] =>
    (of(name)?.lanes ?? [])
      .filter((one) => one.strips.some((s) => s.carry === 'through'))
      .map((one) => one.lane);

  it('has a cell of every role, fillers that fill every tenth but alone', () => {
    const roles = new Set([...footprints.values()].map((f) => f.role));
    const all: Role[] = [
      'signal',
      'analog',
      'supply',
      'clamp',
      'control',
      'macro',
      'break',
      'filler',
      'corner',
    ];
    expect([...roles].sort()).toEqual(all.sort());
    const fillers = [...footprints.values()].filter((f) => f.role === 'filler');
    expect(fillers.map((f) => [f.width / 1e6, f.standsAlone])).toEqual([
      [10, true],
      [5, true],
      [1, true],
      [0.1, false],
    ]);
  });

  it('has two breaks: one lets only VSS through, one parts the I/O lanes with diodes between their grounds', () => {
    expect(through('part_all')).toEqual(['VSS']);
    expect(of('part_all')?.lanes.map((one) => one.lane)).toEqual(['VSS']);
    expect(through('part_io')).toEqual(['VDD', 'VSS']);
    expect(of('part_io')).toMatchObject({ diodes: ['VSSIO'] });
    expect(of('part_io')?.lanes).toHaveLength(4);
    expect(through('io_in')).toEqual(['VSSIO', 'VDDIO', 'VDD', 'VSS']);
  });

  it('has several landings, a deep macro, one start-up cell a section, and pads on top but for analog and corner', () => {
    expect(of('vssio_wide')?.landings.map((one) => [one.name, one.at / 1e6, one.feeds])).toEqual([
      ['PAD1', 35, ['VSSIO']],
      ['PAD2', 105, ['VSSIO']],
    ]);
    expect(of('radio')).toMatchObject({ depth: 260e6, turns: { mirrored: [] } });
    expect(of('startup')).toMatchObject({ landings: [], perSection: { least: 0, most: 1 } });
    expect(of('io_bi')?.needs).toEqual(['startup']);
    const bare = [...footprints.values()].filter((f) => !f.padOnTop).map((f) => f.name);
    expect(bare).toEqual(['ana', 'radio', 'corner']);
    expect(layers?.get('M5')?.currentLimits?.map((one) => one.celsius)).toEqual([85, 105, 125]);
  });
});

describe('the JSON Schema of cell files', () => {
  const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(cellFileJsonSchema());
  const valid = (file: unknown): boolean => validate(file);

  it('accepts the cell files of the project and refuses a misspelt key', () => {
    for (const path of [HARBOUR, 'fixtures/open-130/cells.yaml', 'fixtures/open-180/cells.yaml']) {
      const file: unknown = parse(readFileSync(path, 'utf8'));
      expect([path, valid(file), validate.errors]).toEqual([path, true, null]);
      expect(valid({ ...(file as object), cels: {} })).toBe(false);
    }
    expect(valid({ name: 'x', cells: { a: { role: 'suply' } } })).toBe(false);
    expect(valid({ name: 'x', cells: { a: { width: -1 } } })).toBe(false);
  });
});
