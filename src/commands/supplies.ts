/** `ringwright supplies`: how many supplies, where, and whether rails, wires and discharge paths carry what they must. */

import type { Finding, Placement } from '../format/placement.ts';
import type { Problem } from '../problems/problem.ts';
import { jsonText, writtenOut } from '../problems/unseen.ts';
import { counted, type Declare, findingsText, problemsText, type Result, refused } from './command.ts';

export interface SuppliesOptions {
  readonly json?: boolean;
}

export const declareSupplies: Declare = (program, run) => {
  program
    .command('supplies')
    .description(
      'count the supplies of each net and hold rails, wires and discharge to their budgets; nothing is written',
    )
    .argument('<ring.yaml|placement.json>', 'what to assess')
    .option('--json', 'print the figures as JSON')
    .addHelpText('after', '\nExample:\n  ringwright supplies ring.yaml\n')
    .action((path: string, options: SuppliesOptions) => run(() => supplies(path, options)));
};

export async function supplies(path: string, options: SuppliesOptions): Promise<Result> {
  const json = options.json === true;
  const [{ readText }, { run, rejudged }] = await Promise.all([import('./files.ts'), import('../run.ts')]);
  if (path.toLowerCase().endsWith('.json')) {
    const text = readText(path);
    if (!text.ok) return refused(2, text.problems, json);
    const { readPlacement } = await import('../format/read.ts');
    const placement = readPlacement(text.value, path);
    return placement.ok ? told(rejudged(placement.value), [], json) : refused(2, placement.problems, json);
  }
  const outcome = run(readText, path);
  if (outcome.kind === 'unreadable') return refused(2, outcome.problems, json);
  if (outcome.kind === 'impossible') return refused(1, [...outcome.problems, ...outcome.notes], json);
  return told(outcome.placement, outcome.notes, json);
}

/** Exit status 1 where a budget or a count is not met; findings of other rules are not this command's. */
async function told(placement: Placement, notes: readonly Problem[], json: boolean): Promise<Result> {
  const [{ suppliesText }, { electricalRules }, { isAbout }] = await Promise.all([
    import('../write/supplies-text.ts'),
    import('../electrical/rules.ts'),
    import('../format/finding-order.ts'),
  ]);
  const own = new Set(electricalRules.map((rule) => rule.name));
  const findings = placement.findings.filter((finding) => isAbout(finding, own));
  const stands = (finding: Finding): boolean => finding.severity === 'error' && finding.waived === undefined;
  const status = findings.some(stands) ? 1 : 0;
  if (json) {
    const { ring, summary } = placement;
    const report = { status, ring, electrical: summary.electrical ?? null, findings, notes };
    return { status, out: `${jsonText(report)}\n`, err: '' };
  }
  const verdict = `${writtenOut(placement.ring)}: ${counted(findings.length, 'finding')}\n`;
  return {
    status,
    out: `${suppliesText(placement)}\n${findingsText(findings)}${verdict}`,
    err: problemsText(notes),
  };
}
