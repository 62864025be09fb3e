/**
 * Shows: the metal of a lane through one cell, and what it may carry, on the two open libraries: the 130 nm library's I/O
 * supply lane through an 80 um cell from its LEF, with and without the top layer's cut, against a calculation spelt out
 * here; the 180 nm library's published current limits on a ring made of it, at the next hotter temperature.
 * Sources: the libraries' LEF; the 180 nm design manual, section 9.2 (2.09, 1.00, 0.67 mA/um inside and 3.77, 1.80, 1.21 on the
 * thick top metal at 85, 110, 125 degC). The sheet resistances of the 180 nm ring are assumed here.
 */
import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { laneMetal, limitOf } from '../../src/electrical/metal.ts';
import { mostLoaded } from '../../src/electrical/rails.ts';
import { assessmentOf, laidOf, withBlock } from './sample.ts';

const OPEN = '../shared/open-io-cells';
if (!existsSync(OPEN)) console.info(`${OPEN} is not there: the open libraries are left out`);

describe.skipIf(!existsSync(OPEN))('130 nm: the I/O supply lane through one 80 um cell', () => {
  const placement = laidOf('fixtures/open-130/inline.ring.yaml', {
    'ring.yaml': withBlock('electrical:\n  core: {vdd: 40}\n  drop: 0.1\n'),
  });
  const { layers } = assessmentOf(placement);
  const cell = (name: string) => {
    const found = placement.footprints.find((f) => f.name === name);
    if (found === undefined) throw new Error(`no ${name}`);
    return found;
  };

  // Two strips of 25.5 um on each of Metal3, Metal4 and Metal5 (0.103 ohm a square) and on TopMetal1 (0.021), and two
  // of 22.5 um on TopMetal2 (0.0145): siemens times um, by hand.
  const lower = (6 * 25.5) / 0.103;
  const top1 = (2 * 25.5) / 0.021;
  const top2 = (2 * 22.5) / 0.0145;

  test('with the top layer: 80 um over 7017.5 S um is 11.400 mohm, within 0.1 %', () => {
    const metal = laneMetal(cell('sg13g2_IOPadIn'), 'iovdd', layers);
    if ('missing' in metal) throw new Error(metal.missing);
    expect(lower + top1 + top2).toBeCloseTo(7017.5, 1);
    expect(metal.resistance / (80 / (lower + top1 + top2))).toBeCloseTo(1, 3);
    expect(metal.resistance).toBeCloseTo(0.0114, 5);
    expect(metal.parts.reduce((sum, part) => sum + part.share, 0)).toBeCloseTo(1, 12);
  });

  test('in the core supply cell the top layer is cut: 80 um over 3914.0 S um is 20.439 mohm, within 0.1 %', () => {
    const metal = laneMetal(cell('sg13g2_IOPadVdd'), 'iovdd', layers);
    if ('missing' in metal) throw new Error(metal.missing);
    expect(lower + top1).toBeCloseTo(3914, 1);
    expect(metal.resistance / (80 / (lower + top1))).toBeCloseTo(1, 3);
    expect(metal.resistance).toBeCloseTo(0.020439, 6);
  });

  test("the LEF's limits hold at any temperature", () => {
    expect(limitOf('Metal4', null, layers)).toEqual({ celsius: null, perMicrometre: 2 });
    expect(limitOf('TopMetal2', 300, layers)).toEqual({ celsius: null, perMicrometre: 16 });
  });
});

describe.skipIf(!existsSync(OPEN))('180 nm: the published current limits on a ring', () => {
  const SHEETS = { Metal3: 0.09, Metal4: 0.09, Metal5: 0.04 };
  const withSheets = (text: string): string =>
    text
      .replace('  Metal3: &inner\n', `  Metal3: &inner\n    sheetResistance: ${SHEETS.Metal3}\n`)
      .replace('  Metal5:\n', `  Metal5:\n    sheetResistance: ${SHEETS.Metal5}\n`);
  const laid = (celsius: number, core: number) =>
    laidOf('fixtures/open-180/ring.yaml', {
      'cells.yaml': withSheets,
      'ring.yaml': withBlock(`electrical:\n  celsius: ${celsius}\n  core: {vlogic: ${core}}\n  drop: 5\n`),
    });

  test('at 100 degC the limit of 110 degC holds, at 85 its own, beyond 125 none', () => {
    const { layers } = assessmentOf(laid(100, 10));
    expect(limitOf('Metal3', 100, layers)).toEqual({ celsius: 110, perMicrometre: 1 });
    expect(limitOf('Metal5', 100, layers)).toEqual({ celsius: 110, perMicrometre: 1.8 });
    expect(limitOf('Metal4', 85, layers)).toEqual({ celsius: 85, perMicrometre: 2.09 });
    expect(limitOf('Metal5', 110.1, layers)).toEqual({ celsius: 125, perMicrometre: 1.21 });
    expect(limitOf('Metal5', 126, layers)).toEqual({
      missing: 'a current limit of layer Metal5 at 126 degC or hotter',
    });
    expect(limitOf('Metal3', null, layers)).toEqual({
      missing: 'the temperature, at which current limits hold',
    });
  });

  test('a core current that the rails carry at 85 degC and no longer at 100', () => {
    const CORE = 500;
    const use = (celsius: number) => {
      const a = assessmentOf(laid(celsius, CORE));
      return a.arcs.flatMap((arc, i) => {
        const rail = a.rails[i];
        if (rail === undefined || 'missing' in rail) return [];
        const most = mostLoaded(arc, rail, celsius, a.layers);
        return 'missing' in most ? [] : [most];
      });
    };
    const [cool, hot] = [use(85), use(100)];
    expect(cool.length).toBeGreaterThan(0);
    // The same currents in the same metal, held to 1.80 in place of 3.77 mA/um.
    for (const [i, { current, use: used, tightest }] of cool.entries()) {
      expect(hot[i]?.current).toBe(current);
      expect(tightest.layer).toBe('Metal5');
      expect((hot[i]?.use ?? 0) / used).toBeCloseTo(3.77 / 1.8, 9);
    }
    const broken = (celsius: number) => laid(celsius, CORE).findings.filter((f) => f.rule === 'rail-current');
    expect(broken(85)).toEqual([]);
    expect(broken(100).length).toBeGreaterThan(0);
  });
});
