/**
 * Judges a placement, the program's own or one that a script has edited since: runs every rule over one view of it,
 * then applies the severities and waivers that the placement carries.
 */
import type { Finding, Placement } from '../format/placement.ts';
import type { Hit, Judged, Severity } from './finding.ts';
import { IDLE_WAIVER, ruleList, UNKNOWN_RULE } from './rules.ts';
import { names, readable } from './say.ts';
import { viewOf } from './view.ts';

type Waiver = Placement['rules']['waivers'][number];

/**
 * All findings, in the order of the rules, then of `others`: what other stations found, every rule of theirs listed.
 * A waived finding stays, with the reason. Derived fields are never believed.
 */
export function judge(placement: Placement, others: readonly Judged[] = []): readonly Finding[] {
  const view = viewOf(placement);
  const known = new Set([...ruleList, ...others.map((other) => other.rule)].map((rule) => rule.name));
  const isKnown = (name: string): boolean => known.has(name);
  const { severities, waivers } = placement.rules;
  const severityOf = (rule: Judged['rule']): Severity =>
    Object.hasOwn(severities, rule.name) ? (severities[rule.name] ?? rule.severity) : rule.severity;
  const used = new Set<Waiver>();
  const findings: Finding[] = [];
  const own = ruleList.map((rule): Judged => ({ rule, hits: rule.run(view) }));
  for (const { rule, hits } of [...own, ...others]) {
    if (hits.length === 0) continue;
    const severity = severityOf(rule);
    const waived = waivers.filter((waiver) => waiver.rule === rule.name);
    for (const hit of hits) {
      const waiver = waived.find((candidate) => covers(candidate, hit));
      if (waiver !== undefined) used.add(waiver);
      findings.push(findingOf(rule.name, severity, hit, waiver));
    }
  }
  for (const rule of ruleList) {
    const hits =
      rule.name === UNKNOWN_RULE
        ? unknownRules(placement, isKnown)
        : rule.name === IDLE_WAIVER
          ? waivers.filter((w) => !used.has(w) && isKnown(w.rule)).map(idle)
          : [];
    for (const hit of hits) findings.push(findingOf(rule.name, severityOf(rule), hit, undefined));
  }
  return findings;
}

function findingOf(rule: string, severity: Severity, hit: Hit, waiver: Waiver | undefined): Finding {
  return {
    rule,
    severity,
    message: readable(hit.message),
    items: hit.items,
    ...(hit.at === undefined ? {} : { x: hit.at.x / 1e6, y: hit.at.y / 1e6 }),
    ...(waiver === undefined ? {} : { waived: waiver.reason }),
  };
}

/** A waiver is for named items: it covers a finding only if it names every item of it. */
const covers = (waiver: Waiver, hit: Hit): boolean =>
  hit.items.length > 0 && hit.items.every((item) => waiver.items.includes(item));

const idle = (waiver: Waiver): Hit => ({
  message: `the waiver of ${waiver.rule} for ${names(waiver.items)} applies to no finding`,
  items: waiver.items.length > 0 ? waiver.items : [waiver.rule],
});

function unknownRules({ rules }: Placement, isKnown: (name: string) => boolean): readonly Hit[] {
  const named = [
    ...Object.keys(rules.severities).map((name) => ({ name, what: 'a severity' })),
    ...rules.waivers.map(({ rule }) => ({ name: rule, what: 'a waiver' })),
  ];
  return named
    .filter(({ name }) => !isKnown(name))
    .map(({ name, what }) => ({
      message: `${what} is given for rule "${name}", which there is not`,
      items: [name],
    }));
}
