/**
 * Shows: the supplies' sheets have a chart for each rail that carries a current and for each ground on which outputs switch,
 * with the figures of the assessment; they are well-formed, drawn, and no text lies on another or leaves the sheet;
 * core strips are in the ring's drawing.
 * Sources: xmllint (XML 1.0), rsvg-convert and a real Chromium (SVG 1.1); the assessment's own figures.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chartsOf } from '../../src/electrical/charts.ts';
import type { Placement } from '../../src/format/placement.ts';
import { filesOf } from '../../src/write/files.ts';
import { ringSvg } from '../../src/write/ring-svg.ts';
import { suppliesSheets } from '../../src/write/supplies-svg.ts';
import { X_HEIGHT } from '../helpers/lettering.ts';
import { look, overlapping } from '../write/looking.ts';
import { complaints, openBrowser, without } from '../write/tools.ts';
import { FROST_HUB, LAMP_CONTROLLER, TIDE_GAUGE } from './blocks.ts';
import { assessmentOf, laidOf, withBlock } from './sample.ts';

const CASES = [
  ['tide-gauge', TIDE_GAUGE],
  ['frost-hub', FROST_HUB],
  ['lamp-controller', LAMP_CONTROLLER],
] as const;
const placements = new Map<string, Placement>(
  CASES.map(([name, block]) => [
    name,
    laidOf(`fixtures/${name}/ring.yaml`, { 'ring.yaml': withBlock(block.replace('SUPPLIES', 'auto')) }),
  ]),
);
const placementOf = (name: string): Placement => {
  const placement = placements.get(name);
  if (placement === undefined) throw new Error(name);
  return placement;
};

describe.each(CASES)('%s', (name) => {
  const placement = placementOf(name);
  const sheets = suppliesSheets(placement);
  const text = sheets.map(([, svg]) => svg).join('');

  it('shows each rail that is solved with its worst drop, and each ground that switches with its stretches', () => {
    const { rails, supplies } = assessmentOf(placement);
    const charts = chartsOf(placement);
    const drops = charts.filter((chart) => chart.kind === 'drop').map((chart) => chart.worst);
    expect(drops).toEqual(rails.flatMap((rail) => ('missing' in rail ? [] : [rail.worst.drop])));
    const grounds = supplies.filter(({ group, noise }) => group.kind === 'ground' && 'value' in noise);
    expect(charts.filter((chart) => chart.kind === 'load').length).toBe(grounds.length);
    for (const { kind, worst } of charts) {
      expect(text).toContain(`data-chart="${kind}"`);
      expect(text).toContain(`data-worst="${worst}"`);
    }
  });

  it('shares out all that switches at one time among the stretches, none lost', () => {
    for (const chart of chartsOf(placement)) {
      if (chart.kind !== 'load') continue;
      const loads = assessmentOf(placement).loads.filter((load) => chart.outputs.includes(load.output));
      const total = loads.reduce((sum, load) => sum + (load.slope ?? 0), 0);
      expect(chart.stretches.reduce((sum, one) => sum + one.load, 0)).toBeCloseTo(total, 9);
      expect(chart.stretches.length).toBe(chart.feeds.length + (chart.closed ? 0 : 1));
      expect(Math.max(...chart.stretches.map((one) => one.load))).toBe(chart.worst);
    }
  });

  it.skipIf(without('xmllint'))('is well-formed by xmllint', () => {
    for (const [file, svg] of sheets)
      expect([file, complaints('xmllint', ['--noout', '-'], svg)]).toEqual([file, '']);
  });

  it.skipIf(without('rsvg'))('is drawn by rsvg-convert', () => {
    for (const [file, svg] of sheets)
      expect([file, complaints('rsvg', ['--width', '500'], svg)]).toEqual([file, '']);
  });

  it('is among the files of a build, and the same every time', () => {
    const files = filesOf(placement);
    for (const [file, svg] of sheets) expect(files.get(file)).toBe(svg);
    expect(suppliesSheets(placement)).toEqual(sheets);
  });
});

describe.skipIf(without('chromium'))('in a real browser', () => {
  let browser: Browser | undefined;
  let page: Page | undefined;
  beforeAll(async () => {
    browser = await openBrowser();
    page = await browser.newPage();
  });
  afterAll(async () => browser?.close());

  it.each(CASES)('no text of %s lies on another, leaves the sheet or is too small', async (name) => {
    if (page === undefined) throw new Error('no page');
    for (const [, svg] of suppliesSheets(placementOf(name))) {
      const texts = await look(page, svg);
      expect(texts.length).toBeGreaterThan(10);
      expect(overlapping(texts)).toEqual([]);
      for (const { left, top, right, bottom, size } of texts) {
        expect(left > 5 && top > 5 && right < 415 && bottom < 292).toBe(true);
        expect(size * X_HEIGHT).toBeGreaterThanOrEqual(1.2);
      }
    }
  });
});

it('nothing electrical, no sheet', () => {
  const bare = laidOf('fixtures/tide-gauge/ring.yaml', { 'ring.yaml': withBlock('') });
  expect(suppliesSheets(bare)).toEqual([]);
  expect([...filesOf(bare).keys()]).not.toContain('supplies.svg');
});

it('core strips and straps are in the drawing of the ring, by net', () => {
  const placement = laidOf('fixtures/tide-gauge/ring.yaml', {
    'ring.yaml': withBlock(
      'electrical:\n  celsius: 100\n  core: {vdd: 90}\n  drop: 0.2\n  coreStrips: {nets: [vdd, vss], layer: M6, spacing: 4}\n',
    ),
  });
  const svg = ringSvg(placement);
  for (const net of ['vdd', 'vss']) expect(svg).toContain(`class="core-strip" data-net="${net}"`);
  expect(svg).toContain('core strips, from the ring inward');
});
