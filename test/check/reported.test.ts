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
