/**
 * Shows what `wires.csv` and the package's columns of `bond-pads.csv` hold, read back by a general CSV reader
 * (npm csv-parse). Source: the wires themselves, and a shrunk and turned die worked by hand.
 */
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { wiresOf } from '../../src/bond/wires.ts';
import { bondPadsCsv, PACKAGE_COLUMNS } from '../../src/write/bond-pads.ts';
import { WIRE_COLUMNS, wiresCsv } from '../../src/write/wires-csv.ts';
import { nameOfField } from '../helpers/csv.ts';
import { finger, PLACED, pad, placedBy } from './sample.ts';

type Row = Readonly<Record<string, string>>;
const rowsOf = (text: string): readonly Row[] =>
  parse(text, { columns: true, record_delimiter: '\r\n' }) as Row[];

const PLACEMENT = placedBy(
  [
    pad(2, '=HYPERLINK("x")', 'bottom', 1200, 95),
    pad(1, 'A', 'bottom', 1000, 95, { row: 'outer' }),
    pad(3, 'C', 'left', 95, 1000),
  ],
  [finger('1', 'right', 0, 3000), finger('+2', 'right', 300, 3000)],
  [
    [1, '1'],
    [2, '1'],
    [2, '+2'],
    [3, null],
  ],
  {
    die: { x: 100, y: 0, rotation: 90 },
    paddle: { width: 3000, height: 3000, reach: 300, drop: 250 },
    wires: { ...PLACED.wires, diameter: 25.4, currents: { A: 0.2 } },
  },
  0.9,
);

it('wires.csv has a line for each wire, with what is known of it', () => {
  const rows = rowsOf(wiresCsv(PLACEMENT));
  const wires = wiresOf(PLACEMENT);
  expect(Object.keys(rows[0] ?? {})).toEqual([...WIRE_COLUMNS]);
  expect(rows.length).toBe(4);
  rows.forEach((row, i) => {
    const wire = wires[i];
    expect(nameOfField(row.pin ?? '')).toBe(wire?.pin);
    expect(nameOfField(row.finger ?? '')).toBe(wire?.finger ?? '');
    expect([row.from_x_um, row.from_y_um, row.to_x_um, row.to_y_um].map(Number)).toEqual([
      wire?.from.x,
      wire?.from.y,
      wire?.to.x,
      wire?.to.y,
    ]);
    expect(Number(row.length_um)).toBeCloseTo(wire?.length ?? 0, 3);
    expect(Number(row.angle_deg)).toBeCloseTo(wire?.angle ?? 0, 3);
    expect(Number(row.inductance_nH)).toBeGreaterThan(0);
  });
  // The first pad's wire: from 0.9 (0, -905) turned by 90 degrees and moved, to the finger it shares.
  expect(rows[0]).toMatchObject({
    wire: '1',
    bond_pad: '1',
    row: 'outer',
    from_x_um: '914.5',
    from_y_um: '0',
  });
  expect(rows[0]?.current_A).toBe('0.2');
  expect(Number(rows[0]?.most_current_A)).toBeCloseTo(0.648, 3);
  expect(rows[3]).toMatchObject({ finger: '', tier: '0', current_A: '' });
});

it('no field can become a formula', () => {
  for (const text of [wiresCsv(PLACEMENT), bondPadsCsv(PLACEMENT)])
    for (const row of rowsOf(text))
      for (const [column, field] of Object.entries(row))
        if (['pin', 'net', 'finger', 'fingers'].includes(column)) expect(field).not.toMatch(/^[=+\-@]/);
});

it('bond-pads.csv tells fingers, place in the package and the turn of the die', () => {
  const rows = rowsOf(bondPadsCsv(PLACEMENT));
  expect(Object.keys(rows[0] ?? {}).slice(-4)).toEqual([...PACKAGE_COLUMNS]);
  expect(rows[0]).toMatchObject({
    number: '1',
    x_from_centre_um: '0',
    y_from_centre_um: '-814.5',
    fingers: '1',
    x_in_package_um: '914.5',
    y_in_package_um: '0',
    die_rotation_deg: '90',
  });
  expect(rows[1]?.fingers).toBe('1; +2');
  expect(rows[2]?.fingers).toBe('paddle');
  const { package: _, ...bare } = PLACEMENT;
  expect(Object.keys(rowsOf(bondPadsCsv(bare))[0] ?? {})).not.toContain('fingers');
});
