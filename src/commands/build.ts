/** `ringwright build`: lay a ring and write its files. */
import { join } from 'node:path';
import { counted, type Declare, findingsText, problemsText, refused, type Result } from './command.ts';

export interface BuildOptions {
  readonly output?: string;
  readonly json?: boolean;
}

export const declareBuild: Declare = (program, run) => {
  program
    .command('build')
    .description('lay the ring that a description asks for and write placement, drawings and bond-pad table')
    .argument('<ring.yaml>', 'ring description')
    .option('-o, --output <folder>', 'folder for the files (default: out/ and the ring\'s name)')
    .option('--json', 'print the outcome as JSON')
    .addHelpText('after', '\nExample:\n  ringwright build ring.yaml -o out/first\n')
    .action((path: string, options: BuildOptions) => run(() => build(path, options)));
};

/** Reads, lays, judges and writes; a ring that breaks a rule is still written. */
export async function build(path: string, options: BuildOptions): Promise<Result> {
  const [{ run, isSound }, { readText }] = await Promise.all([import('../run.ts'), import('./files.ts')]);
  const json = options.json === true;
  const outcome = run(readText, path);
  if (outcome.kind === 'unreadable') return refused(2, outcome.problems, json);
  if (outcome.kind === 'impossible') return refused(1, [...outcome.problems, ...outcome.notes], json);
  const { placement, notes } = outcome;
  const [{ filesOf }, { writeSet }, { summaryText }] = await Promise.all([
    import('../write/files.ts'),
    import('../write/folder.ts'),
    import('../write/summary.ts'),
  ]);
  const folder = options.output ?? join('out', folderName(placement.ring));
  const files = await filesOf(placement);
  const written = writeSet(folder, files);
  if (!written.ok) return refused(2, written.problems, json);
  const status = isSound(placement) ? 0 : 1;
  if (json) {
    const { die, core, sides, findings, summary } = placement;
    const report = { status, folder, files: [...files.keys()], ring: placement.ring, die, core, sides, findings, summary, notes };
    return { status, out: `${JSON.stringify(report, null, 2)}\n`, err: '' };
  }
  const wrote = `wrote ${counted(files.size, 'file')} to ${folder}\n`;
  return { status, out: `${summaryText(placement)}${wrote}`, err: problemsText(notes) + findingsText(placement.findings) };
}

/** A ring's name as a folder's: nothing that could lead elsewhere. */
const folderName = (name: string): string => {
  const plain = name.replace(/[^\p{L}\p{N}_.-]+/gu, '-').replace(/^[.-]+/, '');
  return plain === '' ? 'ring' : plain;
};
