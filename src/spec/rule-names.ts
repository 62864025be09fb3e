/**
 * Severities and waivers name rules of the checker; a misspelt one would be passed over in silence. A rule that is an
 * error stays one: it is set aside by name, for named items, with a reason, and never for everything at once.
 */
import type { Path, Source } from '../source/source.ts';
import { didYouMean, type Report, shown } from './report.ts';
import type { Severity } from './ring.ts';
import type { KnownText } from './schema.ts';

/** A rule of the checker, with its own severity. */
export interface KnownRule {
  readonly name: string;
  readonly severity: Severity;
}

export function checkRuleNames(
  report: Report,
  source: Source,
  text: KnownText,
  knownRules: readonly KnownRule[],
): void {
  const own = new Map(knownRules.map(({ name, severity }) => [name, severity]));
  const look = (rule: string, path: Path): void => {
    if (!own.has(rule))
      report.error(
        source.placeOfKey(path),
        'unknown-rule',
        `there is no rule ${shown(rule)}`,
        didYouMean(rule, [...own.keys()], 'rule'),
      );
  };
  for (const [rule, severity] of Object.entries(text.severities ?? {})) {
    const path = ['severities', rule];
    look(rule, path);
    const before = own.get(rule);
    if (before === 'error' && severity !== 'error')
      report.error(
        source.placeOfKey(path),
        'severity-lowered',
        `rule ${shown(rule)} is an error, and cannot be made a ${severity}`,
        `waive what is meant: \`waivers: [{rule: ${rule}, items: […], reason: …}]\``,
      );
    else if (before === severity)
      report.error(
        source.placeOfKey(path),
        'useless-key',
        `rule ${shown(rule)} is ${severity === 'error' ? 'an' : 'a'} ${severity} of itself, so this says nothing`,
        'leave it out',
      );
  }
  text.waivers?.forEach((waiver, i) => {
    look(waiver.rule, ['waivers', i, 'rule']);
  });
}
