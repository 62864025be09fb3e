/**
 * Judges a placement, the program's own or one that a script has edited since: runs every rule over one view of it,
 * then applies the severities and waivers that the placement carries.
 */

import type { Finding, Placement } from '../format/placement.ts';
import type { Hit, Judged, Severity } from './finding.ts';
import { IDLE_WAIVER, ruleList, SEVERITY_LOWERED, SEVERITY_SET, UNKNOWN_RULE, WAIVER_USED } from './rules.ts';
import { names, readable } from './say.ts';
import { viewOf } from './view.ts';

type Waiver = Placement['rules']['waivers'][number];

/**
 * All findings, in the order of the rules, then of `others`: what other stations found, every rule of theirs listed.
 * A waived finding stays, with the reason. Derived fields are never believed.
 */
export function judge(placement: Placement, others: readonly Judged[] = []): readonly Finding[] {
  const view = viewOf(placement);
  const known = new Map(
    [...ruleList, ...others.map(({ rule }) => rule)].map((rule) => [rule.name, rule.severity]),
  );
  const { severities, waivers } = placement.rules;
  const severityOf = ({ name, severity }: Judged['rule']): Severity =>
    severity !== 'error' && Object.hasOwn(severities, name) ? (severities[name] ?? severity) : severity;
  const used = new Map<Waiver, number>();
  const findings: Finding[] = [];
  const take = ({ rule, hits }: Judged): void => {
    if (hits.length === 0) return;
    const severity = severityOf(rule);
    const waived = waivers.filter((waiver) => waiver.rule === rule.name);
    const untold: Hit[] = [];
    let listed = 0;
    for (const hit of hits) {
      const waiver = waived.find((candidate) => covers(candidate, hit));
      if (waiver !== undefined) used.set(waiver, (used.get(waiver) ?? 0) + 1);
      if (listed++ < MOST_LISTED) findings.push(findingOf(rule.name, severity, hit, waiver));
      else if (waiver === undefined) untold.push(hit);
    }
    const [first] = untold;
    if (first !== undefined)
      findings.push(findingOf(rule.name, severity, further(first, untold.length), undefined));
  };
  // Rule by rule, so that what one of them finds too much of is let go before the next.
  for (const rule of ruleList) take({ rule, hits: rule.run(view) });
  others.forEach(take);
  for (const rule of ruleList)
    for (const hit of settingHits(rule.name, placement, known, used))
      findings.push(findingOf(rule.name, severityOf(rule), hit, undefined));
  return findings;
}

/** Findings of one rule that are listed; of a ring with more nobody reads them all, and lists of a million take gigabytes. */
const MOST_LISTED = 10_000;

/** One for all that are not listed, so that they count. */
const further = ({ message, items }: Hit, count: number): Hit => ({
  message: `${count === 1 ? 'a further finding' : `${count} further findings`} of this rule ${count === 1 ? 'is' : 'are'} not listed, the first: ${message}`,
  items,
});

/** What the rules on severities and waivers themselves find; no waiver applies to these. */
function settingHits(
  rule: string,
  placement: Placement,
  known: ReadonlyMap<string, Severity>,
  used: ReadonlyMap<Waiver, number>,
): readonly Hit[] {
  const { waivers } = placement.rules;
  switch (rule) {
    case UNKNOWN_RULE:
      return unknownRules(placement, (name) => known.has(name));
    case SEVERITY_LOWERED:
      return severitiesSet(placement, known)
        .filter(({ own }) => own === 'error')
        .map(({ name, set }) => ({
          message: `severities make a ${set} of rule "${name}", which is an error and stays one`,
          items: [name],
        }));
    case SEVERITY_SET:
      return severitiesSet(placement, known)
        .filter(({ own }) => own !== 'error')
        .map(({ name, own, set }) => ({
          message: `rule "${name}", of itself a ${own}, counts as ${set === 'error' ? 'an' : 'a'} ${set} in this ring`,
          items: [name],
        }));
    case WAIVER_USED:
      return waivers.flatMap((waiver) => {
        const count = used.get(waiver);
        return count === undefined ? [] : [told(waiver, count)];
      });
    case IDLE_WAIVER:
      return waivers.filter((waiver) => !used.has(waiver) && known.has(waiver.rule)).map(idle);
    default:
      return [];
  }
}

/** The severities that differ from the rules' own. */
const severitiesSet = (
  { rules }: Placement,
  known: ReadonlyMap<string, Severity>,
): readonly { readonly name: string; readonly own: Severity; readonly set: Severity }[] =>
  Object.entries(rules.severities).flatMap(([name, set]) => {
    const own = known.get(name);
    return own === undefined || own === set ? [] : [{ name, own, set }];
  });

const told = ({ rule, items, reason }: Waiver, count: number): Hit => ({
  message: `${count === 1 ? 'a finding' : `${count} findings`} of rule "${rule}" for ${names(items)} ${count === 1 ? 'is' : 'are'} waived: ${reason}`,
  items: [rule, ...items],
});

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
  hit.items.length > 0 && hasReason(waiver) && hit.items.every((item) => waiver.items.includes(item));

/** Blanks and signs that cannot be seen are no reason. */
const hasReason = ({ reason }: Waiver): boolean => /[\p{L}\p{N}]/u.test(reason);

const idle = (waiver: Waiver): Hit => ({
  message: hasReason(waiver)
    ? `the waiver of ${waiver.rule} for ${names(waiver.items)} applies to no finding`
    : `the waiver of ${waiver.rule} for ${names(waiver.items)} gives no reason, and does not apply`,
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
