/**
 * Shows: holes that a second review found stay closed. A ring whose cells carry no lane is no ring with rails; what a
 * side was asked for is compared whole; a pad that a cell contains lies within its depth; a stem meets its pad over its
 * whole width; and a net may be called as objects of the language are.
 * Source: ring-model sections 2 and 5 (lanes, landings, stems), on the placement by hand and a demonstration.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement } from '../../src/format/placement.ts';
import { found } from '../../src/problems/problem.ts';
import { run } from '../../src/run.ts';
import { HAND_BUILT } from './hand-built.ts';
import type { Draft } from './operators/operator.ts';

const errorsOf = (edit: (p: Draft) => void): readonly string[] => {
  const draft: Draft = JSON.parse(JSON.stringify(HAND_BUILT));
  edit(draft);
  const placement: Placement = draft;
  return judge(placement)
    .filter((f) => f.severity === 'error')
    .map((f) => `${f.rule}: ${f.message}`);
};

describe('rails', () => {
  it('a ring whose cells have no strips at all is not sound', () => {
    const errors = errorsOf((p) => {
      for (const f of p.footprints) f.lanes = [];
      p.rails = [];
    });
    expect(errors.filter((e) => e.startsWith('section-lanes')).length).toBe(2);
    expect(errors.some((e) => /^footprint: .* feeds at landing .* of which it has no strip$/.test(e))).toBe(
      true,
    );
  });

  it('a section puts no net on a lane that none of its cells carries', () => {
    const errors = errorsOf((p) => {
      const [section] = p.sections;
      if (section !== undefined) section.lanes = { ...section.lanes, GHOST: 'VDD' };
    });
    expect(errors).toContainEqual(
      expect.stringMatching(/^section-lanes: .* on GHOST, which none of its cells carries$/),
    );
  });
});

describe('what was asked for', () => {
  it.each([
    ['footprint', 'nowhere', / a nowhere was asked for$/],
    ['section', 'elsewhere', / was asked for in section "elsewhere"$/],
  ] as const)('a %s that is not the one of the cell is told', (key, value, message) => {
    const errors = errorsOf((p) => {
      const asked = p.asked?.find((one) => one.pins?.includes('A'));
      if (asked === undefined) throw new Error('pin A was not asked for');
      asked[key] = value;
    });
    expect(errors.filter((e) => e.startsWith('cell-asked'))).toEqual([expect.stringMatching(message)]);
  });
});

describe('shapes', () => {
  it('a bond pad that a cell contains lies within its depth', () => {
    const errors = errorsOf((p) => {
      const f = p.footprints.find((one) => one.landings.length > 0);
      const [landing] = f?.landings ?? [];
      if (f === undefined || landing === undefined) throw new Error('no landing');
      const size = { along: 10, deep: 10, opening: { along: 8, deep: 8 } };
      landing.inside = { t: f.height - 4, ...size };
    });
    expect(errors.filter((e) => /a bond pad that reaches beyond its depth$/.test(e))).toHaveLength(1);
  });

  it('a stem meets its bond pad over its whole width', () => {
    const errors = errorsOf((p) => {
      const pad = p.bondPads.find((b) => b.pin === 'A');
      const asked = p.asked?.find((one) => one.pins?.includes('A'));
      const stem = p.stems.find((s) => s.bondPad === pad?.number);
      if (pad === undefined || stem === undefined || asked === undefined) throw new Error('no stem');
      const upright = pad.side === 'left' || pad.side === 'right';
      const along = upright ? pad.height : pad.width;
      const wide = upright ? stem.height : stem.width;
      // All of the stem but one micrometre beside the pad.
      const by = (along + wide) / 2 - 1;
      const forward = pad.side === 'bottom' || pad.side === 'right';
      if (upright) pad.y += forward ? by : -by;
      else pad.x += forward ? by : -by;
      pad.shift = by;
      asked.shift = by;
    });
    expect(errors.filter((e) => e.startsWith('stem-shape'))).toEqual([
      expect.stringMatching(/its stem meets it over 1 um only$/),
    ]);
  });
});

it.each(['toString', 'valueOf', 'hasOwnProperty'])('a net may be called %s', (net) => {
  const folder = 'fixtures/tide-gauge';
  const read = (path: string) =>
    found(
      readFileSync(path, 'utf8')
        .replace(/\bvddio\b/g, (word) => (path.endsWith('ring.yaml') ? net : word))
        .replace(new RegExp(`cell: ${net}\\b`, 'g'), 'cell: vddio'),
    );
  const outcome = run(read, `${folder}/ring.yaml`);
  expect(outcome.kind === 'laid' ? outcome.placement.nets.map((n) => n.name) : outcome.problems).toContain(
    net,
  );
});
