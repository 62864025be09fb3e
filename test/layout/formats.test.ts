/**
 * Shows the list of layout formats: chosen by name, a misspelt one answered with the nearest, nothing written where
 * anything stands against one of them; and the table of cells as a CSV reader reads it.
 *
 * Source of the values: the placement itself; RFC 4180 for the table (npm csv-parse reads it).
 */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { CELL_COLUMNS, cellsCsv } from '../../src/write/layout/cells-csv.ts';
import { chosenFormats, LAYOUT_FORMATS, layoutFiles } from '../../src/write/layout/index.ts';
import { nameOfField } from '../helpers/csv.ts';
import { sample } from './sample.ts';

const names = (list: string) => {
  const outcome = chosenFormats(list);
  return outcome.ok ? outcome.value.map((f) => f.name) : outcome.problems.map((p) => [p.message, p.mend]);
};

describe('the choice of formats', () => {
  it('takes a list in any order, each once', () => {
    expect(names('verilog, gdsii,verilog')).toEqual(['gdsii', 'verilog']);
    expect(names(LAYOUT_FORMATS.map((f) => f.name).join())).toEqual(['gdsii', 'def', 'verilog', 'cells']);
  });

  it('answers an unknown name with the nearest and the whole list', () => {
    expect(names('gdsi,def')).toEqual([
      ['no layout format is named "gdsi"', 'did you mean "gdsii"? there are gdsii, def, verilog, cells'],
    ]);
    expect(names('def,')).toEqual([
      ['a layout format without a name', 'there are gdsii, def, verilog, cells'],
    ]);
    expect(names('constructor')).toEqual([
      ['no layout format is named "constructor"', 'there are gdsii, def, verilog, cells'],
    ]);
  });
});

describe('the files of the formats', () => {
  const layer = { layer: 1, datatype: 0 };
  const map = {
    bondPads: layer,
    openings: layer,
    labels: layer,
    stems: { Metal4: layer, Metal5: layer },
    rails: { Metal3: layer },
    coreStrips: { Metal4: layer, Metal5: layer },
  };

  it('are written for every format, the same bytes each time', () => {
    const files = layoutFiles(sample(), LAYOUT_FORMATS, { gdsii: map });
    expect(files).toEqual(layoutFiles(sample(), LAYOUT_FORMATS, { gdsii: map }));
    expect(files.ok && files.value.map((f) => f.name)).toEqual([
      'ring.gds',
      'ring.def',
      'ring.v',
      'cells.csv',
    ]);
  });

  it('come with a note of the names that they cannot hold, each format by its own signs', () => {
    // The sample has a pin `adc in` and a filler `f-10` besides.
    const top = ['a b', 'a*b', 'd[0]', '\u0434'].map((pin) => ({ pin }));
    const files = layoutFiles(sample({ sides: { top } }), LAYOUT_FORMATS, { gdsii: map });
    const noted = (files.ok ? files.notes : []).filter(({ code }) => code === 'name-not-kept');
    expect(noted.map(({ message }) => message.replace(', and has `_` in its place', ''))).toEqual([
      'ring.gds cannot hold every sign of "adc in", "a b", "\u0434", "f-10"',
      'ring.def cannot hold every sign of "adc in", "a b", "a*b", "\u0434"',
      'ring.v cannot hold every sign of "adc in", "a b", "\u0434"',
    ]);
    // The table of cells holds every name as it is.
    const table = LAYOUT_FORMATS.filter(({ name }) => name === 'cells');
    const plain = layoutFiles(sample({ sides: { top } }), table, {});
    expect(plain.ok && plain.notes).toEqual([]);
  });

  it('are none where one of them cannot be written', () => {
    const without = layoutFiles(sample(), LAYOUT_FORMATS, {});
    expect(without).toMatchObject({ ok: false, problems: [{ code: 'layout-settings-missing' }] });
    const { labels: _, ...rest } = map;
    const lacking = layoutFiles(sample(), LAYOUT_FORMATS, { gdsii: rest });
    expect(lacking).toMatchObject({ ok: false, problems: [{ code: 'layer-map-lacks' }] });
  });
});

describe('the table of cells', () => {
  it('reads back as the placement has it', () => {
    const placement = sample({ sides: { top: [{ pin: '=1+1' }, { pin: 'a,"b"' }] } });
    const rows: Record<string, string>[] = parse(cellsCsv(placement), { columns: true });
    expect(Object.keys(rows[0] ?? {})).toEqual([...CELL_COLUMNS]);
    expect(rows).toHaveLength(placement.cells.length);
    placement.cells.forEach((cell, index) => {
      expect(rows[index]).toMatchObject({
        footprint: cell.footprint,
        role: cell.role,
        side: cell.side ?? '',
        x_um: String(cell.x),
        y_um: String(cell.y),
        width_um: String(cell.width),
        height_um: String(cell.height),
        rotation: String(cell.rotation),
        mirrored: cell.mirrored ? 'yes' : 'no',
        origin_x_um: String(cell.origin.x),
        origin_y_um: String(cell.origin.y),
        section: cell.section ?? '',
      });
    });
    const pins = rows.flatMap(({ pins: own = '' }) => (own === '' ? [] : [own]));
    expect(pins).toContain("'=1+1");
    expect(pins.map(nameOfField)).toEqual(placement.cells.flatMap((cell) => cell.pins ?? []));
  });
});
