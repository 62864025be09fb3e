/** `ringwright check`: findings only, of a description, of a placement file that may have been edited, or of an output folder. */
import { dirname, join } from 'node:path';
import type { Placement } from '../format/placement.ts';
import { found, type Outcome, type Problem } from '../problems/problem.ts';
import { jsonText, writtenOut } from '../problems/unseen.ts';
import type { SetCheck } from '../write/sets.ts';
import { counted, type Declare, findingsText, problemsText, type Result, refused } from './command.ts';

export interface CheckOptions {
  readonly rules?: boolean;
  readonly json?: boolean;
}

export const declareCheck: Declare = (program, run) => {
  program
    .command('check')
    .description('judge a ring description, a placement file or an output folder; nothing is written')
    .argument('[ring.yaml|placement.json|folder]', 'what to judge')
    .option('--rules', 'list the rules, what each protects and how to mend what it finds')
    .option('--json', 'print the outcome as JSON')
    .addHelpText('after', '\nExample:\n  ringwright check out/first/placement.json\n')
    .action((path: string | undefined, options: CheckOptions) => run(() => check(path, options)));
};

export async function check(path: string | undefined, options: CheckOptions): Promise<Result> {
  const json = options.json === true;
  if (options.rules === true && path !== undefined) return refused(2, [rulesAlone(path)], json);
  if (options.rules === true) return rules(json);
  if (path === undefined)
    return refused(
      2,
      [{ code: 'nothing-to-check', message: 'no file is named', mend: 'ringwright check ring.yaml' }],
      json,
    );
  const { isFolder, readText } = await import('./files.ts');
  if (isFolder(path)) return folder(path, json);
  if (path.toLowerCase().endsWith('.json')) {
    const placement = await placementAt(path);
    if (!placement.ok) return refused(2, placement.problems, json);
    return judged(placement.value, await setNote(path), json);
  }
  const { run } = await import('../run.ts');
  const outcome = run(readText, path);
  if (outcome.kind === 'unreadable') return refused(2, outcome.problems, json);
  if (outcome.kind === 'impossible') return refused(1, [...outcome.problems, ...outcome.notes], json);
  return judged(outcome.placement, outcome.notes, json);
}

const rulesAlone = (path: string): Problem => ({
  code: 'wrong-call',
  message: `\`--rules\` lists the rules and judges nothing, but ${path} is named as well`,
  mend: 'leave one of the two out',
});

/** The placement of a file, with its findings worked out afresh. */
async function placementAt(path: string): Promise<Outcome<Placement>> {
  const [{ readText }, { readPlacement }, { findingsOf }] = await Promise.all([
    import('./files.ts'),
    import('../format/read.ts'),
    import('../run.ts'),
  ]);
  const text = readText(path);
  if (!text.ok) return text;
  const placement = readPlacement(text.value, path);
  return placement.ok
    ? found({ ...placement.value, findings: findingsOf(placement.value) }, placement.notes)
    : placement;
}

/** An output folder: whether its files are one set, and then what the placement in it breaks. */
async function folder(path: string, json: boolean): Promise<Result> {
  const { checkSet } = await import('../write/sets.ts');
  const set = checkSet(path);
  if (set.state === 'absent') return refused(2, [noManifest(path)], json);
  if (set.state === 'mixed') {
    const mixed = mixedSet(path, set.amiss);
    return json
      ? { status: 1, out: `${jsonText({ status: 1, set, problems: [mixed] })}\n`, err: '' }
      : refused(1, [mixed], false);
  }
  const placement = await placementAt(join(path, 'placement.json'));
  // `bond -o` writes a set without a placement.
  if (!placement.ok && set.names.includes('placement.json')) return refused(2, placement.problems, json);
  const told = `${path}: a complete set of ${counted(set.names.length, 'file')}\n`;
  if (placement.ok) {
    const result = await judged(placement.value, [], json, set);
    return json ? result : { ...result, out: told + result.out };
  }
  return json
    ? { status: 0, out: `${jsonText({ status: 0, set })}\n`, err: '' }
    : { status: 0, out: told, err: '' };
}

const noManifest = (path: string): Problem => ({
  code: 'no-manifest',
  message: `${path} has no manifest of this program, so nothing says which files belong together`,
  mend: 'name the folder that `ringwright build` has written, or a file',
});

const mixedSet = (path: string, amiss: readonly string[]): Problem => ({
  code: 'mixed-set',
  message: `${path} holds a mixed set: ${amiss.slice(0, 6).join(', ')}${amiss.length > 6 ? ` and ${amiss.length - 6} more` : ''} ${amiss.length === 1 ? 'is not as its manifest says' : 'are not as its manifest says'}`,
  mend: 'build the ring into the folder once more; a run was killed, or the files were changed or taken away since',
});

/** A placement that a script has edited leaves its set mixed, which is worth a word but no fault. */
async function setNote(path: string): Promise<readonly Problem[]> {
  const { checkSet } = await import('../write/sets.ts');
  const set = checkSet(dirname(path));
  return set.state === 'mixed' ? [mixedSet(dirname(path), set.amiss)] : [];
}

async function judged(
  placement: Placement,
  notes: readonly Problem[],
  json: boolean,
  set?: SetCheck,
): Promise<Result> {
  const { isSound } = await import('../run.ts');
  const { findings } = placement;
  const status = isSound(placement) ? 0 : 1;
  if (json) {
    const report = { status, ring: placement.ring, ...(set === undefined ? {} : { set }), findings, notes };
    return { status, out: `${jsonText(report)}\n`, err: '' };
  }
  const verdict = status === 0 ? 'sound' : 'not sound';
  return {
    status,
    out: `${findingsText(findings)}${writtenOut(placement.ring)}: ${verdict}, ${counted(findings.length, 'finding')}\n`,
    err: problemsText(notes),
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
