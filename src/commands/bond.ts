/** `ringwright bond`: the wires to the package judged, the bond diagram written, and pins to exchange proposed. */

import type { Suggestion } from '../bond/suggest.ts';
import type { Finding, Placement } from '../format/placement.ts';
import type { Problem } from '../problems/problem.ts';
import { jsonText, writtenOut } from '../problems/unseen.ts';
import type { Ring } from '../spec/ring.ts';
import { counted, type Declare, findingsText, problemsText, type Result, refused } from './command.ts';

export interface BondOptions {
  readonly output?: string;
  readonly suggestOrder?: boolean;
  readonly json?: boolean;
}

export const declareBond: Declare = (program, run) => {
  program
    .command('bond')
    .description('judge the wires to the package; nothing is written without -o')
    .argument('<ring.yaml>', 'ring description with a package')
    .option('-o, --output <folder>', 'write bond diagram, wires and bond-pad table into this folder')
    .option(
      '--suggest-order',
      'propose exchanges of pins that remove crossings, in the groups that allow them',
    )
    .option('--json', 'print the outcome as JSON')
    .addHelpText('after', '\nExample:\n  ringwright bond ring.yaml --suggest-order\n')
    .action((path: string, options: BondOptions) => run(() => bond(path, options)));
};

/** Exit status 1 where a rule for wires is broken; findings of other rules are not this command's. */
export async function bond(path: string, options: BondOptions): Promise<Result> {
  const json = options.json === true;
  const [{ readText }, { allRules, lay }, { readRing }] = await Promise.all([
    import('./files.ts'),
    import('../run.ts'),
    import('../spec/read.ts'),
  ]);
  const ring = readRing(readText, path, allRules);
  if (!ring.ok) return refused(2, ring.problems, json);
  if (ring.value.package === undefined) return refused(2, [noPackage(ring.value)], json);
  const laid = lay(ring.value);
  if (!laid.ok) return refused(1, [...laid.problems, ...ring.notes], json);
  const placement = laid.value;
  const proposal = options.suggestOrder === true ? await propose(ring.value, placement) : undefined;
  const written = await write(placement, options.output);
  if (!written.ok) return refused(2, written.problems, json);
  const findings = await wireFindings(placement);
  const notes = [...ring.notes, ...laid.notes];
  const status = findings.some(stands) ? 1 : 0;
  if (json) {
    const report = {
      status,
      ring: placement.ring,
      wires: placement.summary.wires,
      findings,
      notes,
      ...proposal,
    };
    return { status, out: `${jsonText(report)}\n`, err: '' };
  }
  const { wireLines } = await import('../write/wires-text.ts');
  const lines = wireLines(placement)
    .map((line) => `${line}\n`)
    .join('');
  const verdict = `${writtenOut(placement.ring)}: ${counted(findings.length, 'finding')} on wires\n`;
  const proposed = proposal === undefined ? '' : proposalText(proposal);
  return {
    status,
    out: `${lines}${findingsText(findings)}${verdict}${proposed}${written.told}`,
    err: problemsText(notes),
  };
}

const stands = (finding: Finding): boolean => finding.severity === 'error' && finding.waived === undefined;

const noPackage = (ring: Ring): Problem => ({
  code: 'no-package',
  message: 'the ring description has no `package`, so there is nothing to bond',
  mend: 'add `package:` with a name, fingers and wires',
  place: ring.place,
});

async function wireFindings(placement: Placement): Promise<readonly Finding[]> {
  const [{ wireRules }, { isAbout }] = await Promise.all([
    import('../bond/rules.ts'),
    import('../format/finding-order.ts'),
  ]);
  const own = new Set(wireRules.map((rule) => rule.name));
  return placement.findings.filter((finding) => isAbout(finding, own));
}

type Written =
  | { readonly ok: true; readonly told: string }
  | { readonly ok: false; readonly problems: readonly Problem[] };

async function write(placement: Placement, folder: string | undefined): Promise<Written> {
  if (folder === undefined) return { ok: true, told: '' };
  const [{ bondFiles }, { writeSet }] = await Promise.all([
    import('../write/files.ts'),
    import('../write/folder.ts'),
  ]);
  const files = bondFiles(placement);
  const written = writeSet(folder, files);
  return written.ok ? { ok: true, told: `wrote ${counted(files.size, 'file')} to ${folder}\n` } : written;
}

interface Proposal {
  readonly suggestion: Suggestion & {
    /** Errors of all rules, before and with the exchanges; null where the ring then cannot be laid. */
    readonly errors: { readonly before: number; readonly after: number | null };
  };
}

/** The exchanges, and the ring laid with them. */
async function propose(ring: Ring, placement: Placement): Promise<Proposal> {
  const [{ suggestOrder }, { exchangePins }, { lay }] = await Promise.all([
    import('../bond/suggest.ts'),
    import('../spec/package-exchange.ts'),
    import('../run.ts'),
  ]);
  const suggestion = suggestOrder(placement);
  const errorsOf = (of: Placement): number => of.findings.filter(stands).length;
  const before = errorsOf(placement);
  if (suggestion.swaps.length === 0)
    return { suggestion: { ...suggestion, errors: { before, after: before } } };
  const again = lay(exchangePins(ring, suggestion.swaps));
  if (!again.ok) return { suggestion: { ...suggestion, errors: { before, after: null } } };
  const after = again.value.summary.wires?.crossings ?? suggestion.after;
  return { suggestion: { ...suggestion, after, errors: { before, after: errorsOf(again.value) } } };
}

function proposalText({ suggestion }: Proposal): string {
  const { swaps, before, after, errors } = suggestion;
  if (swaps.length === 0)
    return before === 0
      ? 'no wires cross: there is nothing to exchange\n'
      : 'no exchange within the groups of `package.bonds.exchange` removes a crossing\n';
  const list = swaps.map(([a, b]) => `  exchange ${a} and ${b}\n`).join('');
  const laid =
    errors.after === null
      ? 'with them the ring cannot be laid'
      : `with them ${counted(after, 'crossing')} instead of ${before}, and ${counted(errors.after, 'error')} instead of ${errors.before}`;
  return `proposed, one after the other:\n${list}${laid}\n`;
}
