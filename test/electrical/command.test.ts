/**
 * Shows: `ringwright supplies` prints the table and for every figure its working, says "not assessed" and what is missing,
 * and ends in 1 where a budget or a count is not met, of a description and of a placement file.
 * Source: our own rules.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { supplies } from '../../src/commands/supplies.ts';
import { placementJson } from '../../src/write/json.ts';
import { TIDE_GAUGE } from './blocks.ts';
import { laidOf, withBlock } from './sample.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'supplies-'));
  cpSync('fixtures', folder, { recursive: true });
});
afterAll(() => rmSync(folder, { recursive: true }));

function ring(block: string): string {
  const path = join(folder, 'tide-gauge', 'ring.yaml');
  writeFileSync(path, withBlock(block)(readFileSync('fixtures/tide-gauge/ring.yaml', 'utf8')));
  return path;
}

test('a broken budget: status 1, the table, the working of every figure, what is not assessed', async () => {
  const { status, out, err } = await supplies(ring(TIDE_GAUGE.replace('SUPPLIES', 'given')), {});
  expect([status, err]).toEqual([1, '']);
  expect(out).toMatch(/^net +on +have +needed +decided by +current +wire +noise L\/N +noise +discharge$/m);
  expect(out).toMatch(/^vddio on VDDIO +digital +3 +4 +switching noise +1 +1 +4 +4 +\d+$/m);
  expect(out).toMatch(/^switching noise, vddio on VDDIO \(digital\): 0\.196\d V, limit 0\.16 V: BROKEN$/m);
  expect(out).toMatch(/^switching noise, vdd on VDD .*: not assessed, for lack of an output that switches/m);
  expect(out).toMatch(
    /^error: net vddio on VDDIO \(digital\) has 3 supply cells and needs 4, for switching noise/m,
  );
  // Every figure that is assessed has a line with its formula and one with its source below it.
  const lines = out.split('\n');
  const figures = lines.flatMap((line, i) =>
    /^[a-z].*: [\d.e-]+ (cells|V|mA\/um|nH|pC|pF)/.test(line) ? [i] : [],
  );
  expect(figures.length).toBeGreaterThan(30);
  for (const i of figures) {
    expect(lines[i + 1]).toMatch(/^ {4}\S/);
    expect(lines[i + 2]).toMatch(/^ {4}source: \S/);
  }
});

test('with supplies set by itself: status 0, and a note of what was set', async () => {
  const { status, out, err } = await supplies(ring(TIDE_GAUGE.replace('SUPPLIES', 'auto')), {});
  expect(status).toBe(0);
  expect(out).toContain('tide-gauge: 0 findings');
  expect(err).toContain('2 supply cells were set');
});

test('without the block: nothing assessed, which is no failure and no holding', async () => {
  const { status, out } = await supplies(ring(''), {});
  expect(status).toBe(0);
  expect(out).toContain('not assessed, for lack of `electrical` in the ring description');
  expect(out).not.toContain('holds');
});

test('a placement file that was edited is assessed as it is', async () => {
  const placement = laidOf('fixtures/tide-gauge/ring.yaml', {
    'ring.yaml': withBlock(TIDE_GAUGE.replace('SUPPLIES', 'auto')),
  });
  const path = join(folder, 'placement.json');
  writeFileSync(path, placementJson(placement));
  expect((await supplies(path, {})).status).toBe(0);
  const edited = { ...placement, cells: placement.cells.filter((cell) => cell.name !== 'VDDIO_2') };
  writeFileSync(path, placementJson(edited));
  const { status, out } = await supplies(path, {});
  expect(status).toBe(1);
  expect(out).toMatch(/has 3 supply cells and needs 4/);
});

test('for machines', async () => {
  const { status, out } = await supplies(ring(TIDE_GAUGE.replace('SUPPLIES', 'given')), { json: true });
  const report = JSON.parse(out) as {
    status: number;
    electrical: { supplies: unknown[]; figures: unknown[] };
  };
  expect([status, report.status]).toEqual([1, 1]);
  expect(report.electrical.supplies.length).toBe(7);
  expect(report.electrical.figures.length).toBeGreaterThan(20);
});

test('what cannot be read: status 2', async () => {
  expect((await supplies(join(folder, 'none.yaml'), {})).status).toBe(2);
  expect((await supplies(ring('electrical: {core: {vdd: 0}}\n'), {})).status).toBe(2);
});
