/** The order in which reports list findings, and the findings that tell how a ring set rules aside. */
import type { Finding } from './placement.ts';

/** The checker's rules that tell of a severity which the ring has changed, and of a waiver in use. */
const SETTINGS: readonly string[] = ['severity-set', 'waiver-used'];

const WEIGHT = { error: 0, warning: 2, note: 3 } as const;

/** Gravest first; what the ring sets aside right behind the errors, so that no long list hides it; waived ones last. */
export function findingRank({ rule, severity, waived }: Finding): number {
  if (waived !== undefined) return 4;
  return SETTINGS.includes(rule) ? Math.min(1, WEIGHT[severity]) : WEIGHT[severity];
}

/** Whether a finding is of some rules, or tells that the ring set one of them aside. */
export const isAbout = ({ rule, items }: Finding, rules: ReadonlySet<string>): boolean =>
  rules.has(rule) || (SETTINGS.includes(rule) && rules.has(items[0] ?? ''));
