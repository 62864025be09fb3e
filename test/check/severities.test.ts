/**
 * Shows: severities and waivers that a placement carries apply by name and for named items only, waived findings stay
 * listed with the reason, and a name or waiver that means nothing is itself found. Source: issue 3, item 2.
 */
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import { ruleList } from '../../src/check/rules.ts';
import type { Placement, Rules } from '../../src/format/placement.ts';
import { HAND_BUILT } from './hand-built.ts';

/** The placement by hand with every pad half a micrometre inside its corner clearance. */
const broken = (more: Partial<Rules>): Placement => ({
  ...HAND_BUILT,
  rules: { ...HAND_BUILT.rules, corners: { clearance: 283.5, pitches: [] }, ...more },
});

describe('severities', () => {
  /** The placement by hand with a summary that counts a filler too many. */
  const miscounted = (severities: Rules['severities']): Placement => ({
    ...HAND_BUILT,
    summary: { ...HAND_BUILT.summary, roles: { ...HAND_BUILT.summary.roles, filler: 9 } },
    rules: { ...HAND_BUILT.rules, severities },
  });

  it.each(['error', 'note'] as const)(
    'takes a warning for the %s that the rules make of it, and tells so',
    (set) => {
      const findings = judge(miscounted({ summary: set }));
      expect(findings.map((f) => [f.rule, f.severity, f.items])).toEqual([
        ['summary', set, ['filler']],
        ['severity-set', 'note', ['summary']],
      ]);
      expect(findings[1]?.message).toBe(
        `rule "summary", of itself a warning, counts as ${set === 'error' ? 'an error' : 'a note'} in this ring`,
      );
    },
  );

  it('says nothing of a severity that the rule has of itself', () => {
    expect(judge(miscounted({ summary: 'warning' })).map((f) => f.rule)).toEqual(['summary']);
  });

  it('leaves an error an error, whatever the rules make of it, and finds the attempt', () => {
    for (const set of ['warning', 'note'] as const) {
      const findings = judge(broken({ severities: { 'corner-clearance': set, 'severity-lowered': set } }));
      expect(findings.map((f) => [f.rule, f.severity])).toEqual([
        ...Array(4).fill(['corner-clearance', 'error']),
        ['severity-lowered', 'error'],
        ['severity-lowered', 'error'],
      ]);
    }
  });

  it('finds a severity for a rule that there is not', () => {
    const findings = judge({
      ...HAND_BUILT,
      rules: {
        ...HAND_BUILT.rules,
        severities: { 'corner-clearence': 'note' as const, toString: 'note' as const },
      },
    });
    expect(findings.map((f) => [f.rule, f.items])).toEqual([
      ['unknown-rule', ['corner-clearence']],
      ['unknown-rule', ['toString']],
    ]);
  });
});

describe('waivers', () => {
  const waiver = (...items: readonly string[]) => ({
    rule: 'corner-clearance',
    items,
    reason: 'agreed with the assembly house',
  });

  it('waives the named items only, and keeps the finding with its reason', () => {
    const findings = judge(broken({ waivers: [waiver('A', 'B')] }));
    expect(findings.map((f) => [f.items[0], f.severity, f.waived])).toEqual([
      ['VDD', 'error', undefined],
      ['VSS', 'error', undefined],
      ['A', 'error', 'agreed with the assembly house'],
      ['B', 'error', 'agreed with the assembly house'],
      ['corner-clearance', 'note', undefined],
    ]);
    expect(findings.at(-1)?.message).toBe(
      '2 findings of rule "corner-clearance" for "A", "B" are waived: agreed with the assembly house',
    );
  });

  it('takes blanks for no reason', () => {
    const blank = broken({ waivers: [{ ...waiver('A'), reason: ' \u200b - ' }] });
    const findings = judge(blank);
    expect(findings.filter((f) => f.waived !== undefined)).toEqual([]);
    expect(findings.at(-1)).toMatchObject({ rule: 'waiver-idle', items: ['A'] });
  });

  it('waives a finding of two items only where it names both', () => {
    const twins = {
      ...HAND_BUILT,
      cells: HAND_BUILT.cells.map((c) =>
        c.name === 'fill-top-2' ? { ...c, x: 233.5, origin: { ...c.origin, x: 253.5 } } : c,
      ),
    };
    const overlap = (items: readonly string[]) =>
      judge({
        ...twins,
        rules: { ...twins.rules, waivers: [{ rule: 'cell-overlap', items, reason: 'meant' }] },
      });
    expect(overlap(['fill-top-2']).find((f) => f.rule === 'cell-overlap')?.waived).toBeUndefined();
    expect(overlap(['fill-top-2', 'B']).find((f) => f.rule === 'cell-overlap')?.waived).toBe('meant');
  });

  it('finds a waiver that applies to nothing, and one of a rule that there is not', () => {
    const findings = judge({
      ...HAND_BUILT,
      rules: {
        ...HAND_BUILT.rules,
        waivers: [waiver('A'), { ...waiver('A'), rule: 'corner-clarence' }, waiver()],
      },
    });
    expect(findings.map((f) => [f.rule, f.severity])).toEqual([
      ['unknown-rule', 'error'],
      ['waiver-idle', 'warning'],
      ['waiver-idle', 'warning'],
    ]);
  });
});

describe('the list of rules', () => {
  it('has one entry a name, each with a sentence on what it protects and one on how to mend it', () => {
    expect(new Set(ruleList.map((r) => r.name)).size).toBe(ruleList.length);
    for (const rule of ruleList) {
      expect(rule.name).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(rule.protects).toMatch(/^That .*\.$/s);
      expect(rule.mend).toMatch(/^[A-Z].*\.$/s);
    }
  });
});

describe('more findings of one rule than anybody reads', () => {
  const many = (waivers: Rules['waivers']): Placement => ({
    ...HAND_BUILT,
    nets: [
      ...HAND_BUILT.nets,
      ...Array.from({ length: 10_003 }, (_, i) => ({ name: `spare${i}`, kind: 'signal' as const })),
    ],
    rules: { ...HAND_BUILT.rules, waivers },
  });
  const unused = (placement: Placement) => judge(placement).filter((f) => f.rule === 'name-unused');

  it('are counted in one, which no waiver covers', () => {
    const found = unused(many([]));
    expect(found.length).toBe(10_001);
    expect(found.at(-1)?.message).toBe(
      '3 further findings of this rule are not listed, the first: net "spare10000" is listed, but no lane and no bond pad is on it',
    );
    const waiver = {
      rule: 'name-unused',
      items: Array.from({ length: 10_002 }, (_, i) => `spare${i}`),
      reason: 'for later',
    };
    const left = unused(many([waiver])).filter((f) => f.waived === undefined);
    expect(left.map((f) => f.message)).toEqual([
      'a further finding of this rule is not listed, the first: net "spare10002" is listed, but no lane and no bond pad is on it',
    ]);
    const all = { ...waiver, items: [...waiver.items, 'spare10002'] };
    expect(unused(many([all])).filter((f) => f.waived === undefined)).toEqual([]);
  });
});
