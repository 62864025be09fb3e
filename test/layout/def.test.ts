/**
 * Shows that the DEF file holds the placement: every component's place and orientation, every pin's metal, every
 * rail and stem, recomputed by a reader written here from the standard's rules alone.
 *
 * Source of the values: the reader in `def-reader.ts`; ring-model section 1, whose cell is FE.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { type DefSettings, def } from '../../src/write/layout/def.ts';
import { compare, readBack } from './def-reader.ts';
import { anyPlacement, handWorkedCell, sample } from './sample.ts';

const written = (placement: Placement, settings: DefSettings = {}): string => {
  const outcome = def(placement, settings);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
};

describe('DEF read back by the standard', () => {
  it('holds the sample: cells, pins, nets, rails', () => {
    const placement = sample();
    const read = readBack(written(placement));
    compare(placement, read);
    expect(new Set(read.components.map((c) => c.orientation)).size).toBe(8);
    expect(read.per).toBe(1000);
    expect(read.design).toBe('tide_gauge');
    expect(read.pins.map((pin) => [pin.name, pin.net, pin.use])).toEqual([
      ['sda', 'sda', 'SIGNAL'],
      ['scl', 'scl', 'SIGNAL'],
      ['VDD_1', 'VDD', 'POWER'],
      ['data[0]', 'data[0]', 'SIGNAL'],
      ['data[1]', 'data[1]', 'SIGNAL'],
      ['VSS_1', 'VSS', 'GROUND'],
      ['adc_in', 'adc_in', 'SIGNAL'],
      ['lone[7]', 'lone[7]', 'SIGNAL'],
      ['module', 'module', 'SIGNAL'],
      ['clk', 'clk', 'SIGNAL'],
    ]);
    expect(read.pins.map((pin) => pin.shapes.map((s) => s.layer))).toEqual(
      placement.bondPads.map(() => ['Metal4', 'Metal5']),
    );
    expect(read.nets).toContainEqual({ name: 'adc_in', ends: ['PIN adc_in', 'io_adc_in PAD'] });
    expect(read.nets.map((n) => n.name)).not.toContain('VDD');
    const [vdd] = read.special.filter((n) => n.name === 'VDD');
    expect([vdd?.use, vdd?.ends, vdd?.shapes.length]).toEqual(['POWER', ['PIN VDD_1'], 8]);
  });

  it('holds any cells in any of the eight orientations, on any grid, under any names', () => {
    fc.assert(
      fc.property(anyPlacement, (placement) => {
        compare(placement, readBack(written(placement, { padLayer: 'Metal5' })));
      }),
      { numRuns: 300 },
    );
  });

  /** Ring-model section 1: 75 x 350, mirrored, right side of a die 3000 wide, t 50 to 400, s 1000 to 1075. */
  it('calls the hand-worked cell FE at its lower-left corner', () => {
    expect(written(handWorkedCell())).toContain('\n- io_sda io + FIXED ( 2600000 1000000 ) FE ;\n');
  });

  it('gives a pad the named layer, and without layer and stem no shape', () => {
    const bare = { ...sample(), stems: [], coreStrips: [] };
    expect(readBack(written(bare)).pins.every((pin) => pin.shapes.length === 0)).toBe(true);
    expect(written(bare)).not.toContain('LAYER');
    const named = readBack(written(bare, { padLayer: 'Top[1]' }));
    expect(named.pins.map((pin) => pin.shapes.map((s) => s.layer))).toEqual(
      bare.bondPads.map(() => ['Top\\[1\\]']),
    );
  });

  it('gives a pin of several bond pads a port for each', () => {
    const power = { pin: 'VDD', net: 'VDD', footprint: 'power' };
    const placement = sample({ sides: { top: [power, power, { pin: 'clk' }] } });
    const text = written(placement);
    const read = readBack(text);
    compare(placement, read);
    expect(read.pins.filter((pin) => pin.name === 'VDD').map((pin) => pin.shapes.length)).toEqual([4]);
    expect(text.match(/\+ PORT/gu)).toHaveLength(2);
    expect(text).toContain('- VDD ( PIN VDD_1 ) ( PIN VDD )');
  });

  it('escapes what is no bus, and leaves a bus its brackets', () => {
    const text = written(sample());
    expect(text).toContain('- data[0] + NET data[0] ');
    const lone = written(sample({ sides: { right: [{ pin: 'a[1]' }, { pin: 'a[3]' }, { pin: 'x/y\\z' }] } }));
    expect(lone).toContain('- a\\[1\\] + NET a\\[1\\] ');
    expect(lone).toContain('- x\\/y\\\\z + NET x\\/y\\\\z ');
  });

  it('takes the standard unit that the grid divides, and refuses a grid that has none', () => {
    const per = (grid: number) => {
      const outcome = def({ ...sample(), units: { length: 'um', grid } });
      return outcome.ok ? readBack(outcome.value).per : outcome.problems.map((p) => p.code);
    };
    expect([0.001, 0.05, 0.005, 0.0025, 0.0005, 0.00025, 0.000125, 0.0001, 0.00005].map(per)).toEqual([
      1000, 1000, 1000, 2000, 2000, 4000, 8000, 10_000, 20_000,
    ]);
    expect(per(0.0003)).toEqual(10_000);
    expect(per(0.000_03)).toEqual(['grid-not-in-def']);
  });

  it('refuses a shape off the grid', () => {
    const base = sample();
    const placement = { ...base, cells: base.cells.map((c, i) => (i === 2 ? { ...c, x: c.x + 0.0001 } : c)) };
    expect(def(placement)).toMatchObject({
      ok: false,
      problems: [{ code: 'off-database-unit', message: expect.stringMatching('cell scl') }],
    });
  });
});
