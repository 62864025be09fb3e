/** Severities and waivers name rules of the checker; a misspelt one would be passed over in silence. */
import type { Path, Source } from '../source/source.ts';
import { didYouMean, type Report, shown } from './report.ts';
import type { KnownText } from './schema.ts';

export function checkRuleNames(
  report: Report,
  source: Source,
  text: KnownText,
  knownRules: readonly string[],
): void {
  const look = (rule: string, path: Path): void => {
    if (!knownRules.includes(rule))
      report.error(
        source.placeOfKey(path),
        'unknown-rule',
        `there is no rule ${shown(rule)}`,
        didYouMean(rule, knownRules, 'rule'),
      );
  };
  for (const rule of Object.keys(text.severities ?? {})) look(rule, ['severities', rule]);
  text.waivers?.forEach((waiver, i) => {
    look(waiver.rule, ['waivers', i, 'rule']);
  });
}
