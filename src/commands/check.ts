/** `ringwright check`: findings only, of a description or of a placement file that may have been edited since. */

import type { Placement } from '../format/placement.ts';
import { jsonText, writtenOut } from '../problems/unseen.ts';
import { counted, type Declare, findingsText, problemsText, type Result, refused } from './command.ts';

export interface CheckOptions {
  readonly rules?: boolean;
  readonly json?: boolean;
}

export const declareCheck: Declare = (program, run) => {
  program
    .command('check')
    .description('judge a ring description or a placement file; nothing is written')
    .argument('[ring.yaml|placement.json]', 'what to judge')
    .option('--rules', 'list the rules, what each protects and how to mend what it finds')
    .option('--json', 'print the outcome as JSON')
    .addHelpText('after', '\nExample:\n  ringwright check out/first/placement.json\n')
    .action((path: string | undefined, options: CheckOptions) => run(() => check(path, options)));
};

export async function check(path: string | undefined, options: CheckOptions): Promise<Result> {
  const json = options.json === true;
  if (options.rules === true) return rules(json);
  if (path === undefined)
    return refused(
      2,
      [{ code: 'nothing-to-check', message: 'no file is named', mend: 'ringwright check ring.yaml' }],
      json,
    );
  const { readText } = await import('./files.ts');
  if (path.toLowerCase().endsWith('.json')) {
    const text = readText(path);
    if (!text.ok) return refused(2, text.problems, json);
    const [{ readPlacement }, { findingsOf }] = await Promise.all([
      import('../format/read.ts'),
      import('../run.ts'),
    ]);
    const placement = readPlacement(text.value, path);
    if (!placement.ok) return refused(2, placement.problems, json);
    return judged({ ...placement.value, findings: findingsOf(placement.value) }, '', json);
  }
  const { run } = await import('../run.ts');
  const outcome = run(readText, path);
  if (outcome.kind === 'unreadable') return refused(2, outcome.problems, json);
  if (outcome.kind === 'impossible') return refused(1, [...outcome.problems, ...outcome.notes], json);
  return judged(outcome.placement, problemsText(outcome.notes), json);
}

async function judged(placement: Placement, notes: string, json: boolean): Promise<Result> {
  const { isSound } = await import('../run.ts');
  const { findings } = placement;
  const status = isSound(placement) ? 0 : 1;
  if (json)
    return {
      status,
      out: `${jsonText({ status, ring: placement.ring, findings })}\n`,
      err: '',
    };
  const verdict = status === 0 ? 'sound' : 'not sound';
  return {
    status,
    out: `${findingsText(findings)}${writtenOut(placement.ring)}: ${verdict}, ${counted(findings.length, 'finding')}\n`,
    err: notes,
  };
}

async function rules(json: boolean): Promise<Result> {
  const { allRules } = await import('../run.ts');
  const plain = allRules.map(({ name, severity, protects, mend }) => ({ name, severity, protects, mend }));
  if (json) return { status: 0, out: `${jsonText(plain)}\n`, err: '' };
  const text = plain
    .map((r) => `${r.name} (${r.severity})\n    ${r.protects}\n    Mend: ${r.mend}\n`)
    .join('');
  return { status: 0, out: text, err: '' };
}
