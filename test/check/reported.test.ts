/**
 * Shows: every report that lists findings tells which severities a ring has changed and what it waives, however long its
 * list is. Source: derived, from the starter ring held to a corner clearance that no pad keeps, with a changed severity
 * and a waiver.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { check } from '../../src/commands/check.ts';
import { isAbout } from '../../src/format/finding-order.ts';
import type { Placement } from '../../src/format/placement.ts';
import { modelOf } from '../../src/page/model.ts';
import { found } from '../../src/problems/problem.ts';
import { findingsOf, run } from '../../src/run.ts';
import { ringSvg } from '../../src/write/ring-svg.ts';
import { summaryText } from '../../src/write/summary.ts';

const SET = 'rule "summary", of itself a warning, counts as an error in this ring';
const WAIVED = 'a finding of rule "corner-clearance" for "RESET_N" is waived: agreed';

function edited(): Placement {
  const outcome = run((path) => found(readFileSync(path, 'utf8')), 'fixtures/starter/ring.yaml');
  if (outcome.kind !== 'laid') throw new Error(JSON.stringify(outcome));
  const { rules } = outcome.placement;
  const placement: Placement = {
    ...outcome.placement,
    rules: {
      ...rules,
      corners: { ...rules.corners, clearance: 420 },
      severities: { summary: 'error' },
      waivers: [{ rule: 'corner-clearance', items: ['RESET_N'], reason: 'agreed' }],
    },
  };
  return { ...placement, findings: findingsOf(placement) };
}

const plain = (text: string): string =>
  text
    .replaceAll('&quot;', '"')
    .replaceAll(/<[^>]*>|\s+/g, ' ')
    .replaceAll(/ +/g, ' ');

it('the placement, the terminal, the drawing and the page tell both', async () => {
  const placement = edited();
  expect(placement.findings.map((f) => f.message)).toEqual(expect.arrayContaining([SET, WAIVED]));
  for (const text of [summaryText(placement), ringSvg(placement)].map(plain)) {
    expect(text).toContain(SET);
    expect(text).toContain(WAIVED);
  }
  // The page lists the findings of its model, those on errors first.
  const listed = modelOf(placement).findings.map(({ finding }) => finding);
  const errors = listed.filter((f) => f.severity === 'error' && f.waived === undefined).length;
  expect(errors).toBeGreaterThan(10);
  expect(listed.slice(errors, errors + 2).map((f) => f.message)).toEqual([SET, WAIVED]);
  const folder = mkdtempSync(join(tmpdir(), 'ringwright-reported-'));
  try {
    const path = join(folder, 'placement.json');
    writeFileSync(path, JSON.stringify(placement));
    const { out, status } = await check(path, {});
    expect(status).toBe(1);
    expect(out).toContain(`note: ${SET} [severity-set]\n`);
    expect(out).toContain(`note: ${WAIVED} [waiver-used]\n`);
  } finally {
    rmSync(folder, { recursive: true });
  }
});

it('a report on some rules tells of those only', () => {
  const own = edited().findings.filter((f) => isAbout(f, new Set(['corner-clearance'])));
  expect(new Set(own.map((f) => f.rule))).toEqual(new Set(['corner-clearance', 'waiver-used']));
  const other = edited().findings.filter((f) => isAbout(f, new Set(['summary'])));
  expect(other.map((f) => f.rule)).toEqual(['severity-set']);
});

it('figures of the summary that are not those of the placement are told, those that it tells truly are not', () => {
  const outcome = run((path) => found(readFileSync(path, 'utf8')), 'fixtures/tide-gauge/ring.yaml');
  if (outcome.kind !== 'laid') throw new Error(JSON.stringify(outcome));
  const { placement } = outcome;
  const told = (summary: Partial<Placement['summary']>): readonly string[] => {
    const text = JSON.stringify({ ...placement, summary: { ...placement.summary, ...summary } });
    return findingsOf(JSON.parse(text)).map((f) => `${f.rule} ${f.severity} ${f.items.join()}`);
  };
  const { wires } = placement.summary;
  if (wires === undefined) throw new Error('no wires');
  expect(told({})).toEqual([]);
  expect(told({ wires: { ...wires, crossings: wires.crossings + 1 } })).toEqual(['summary warning wires']);
  expect(told({ electrical: { notAssessed: 'nothing' } })).toEqual(['summary warning electrical']);
});

it('a placement with a thing a metre away is judged, not assessed', () => {
  const placement = edited();
  const pads = placement.bondPads.map((pad, i) => (i === 2 ? { ...pad, y: 1e300 } : pad));
  const rules = new Set(findingsOf({ ...placement, bondPads: pads }).map((f) => f.rule));
  for (const rule of ['too-far', 'outside-die', 'inexact-length']) expect(rules).toContain(rule);
});
