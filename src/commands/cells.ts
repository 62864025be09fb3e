/** `ringwright cells`: a cell file proposed from LEF, with what LEF leaves open marked for the user. */
import { jsonText } from '../problems/unseen.ts';
import { type Declare, problemsText, type Result, refused } from './command.ts';

export const declareCells: Declare = (program, run) => {
  program
    .command('cells')
    .description('propose a cell file from LEF; every point that LEF leaves open is marked in it')
    .argument('<file.lef...>', 'LEF files of the cells, and of the layers if there is one')
    .option('-o, --output <file>', 'write the cell file here instead of printing it')
    .option('--json', 'print the outcome as JSON')
    .addHelpText('after', '\nExample:\n  ringwright cells io.lef layers.lef -o cells.yaml\n')
    .action((paths: string[], options: { output?: string; json?: boolean }) =>
      run(() => cells(paths, options)),
    );
};

export async function cells(
  paths: readonly string[],
  options: { output?: string; json?: boolean },
): Promise<Result> {
  const [{ readText }, { proposeCellFile }] = await Promise.all([
    import('./files.ts'),
    import('../library/propose.ts'),
  ]);
  const json = options.json === true;
  const texts = paths.map((path) => ({ path, text: readText(path) }));
  const problems = texts.flatMap(({ text }) => (text.ok ? [] : text.problems));
  if (problems.length > 0) return refused(2, problems, json);
  const proposed = proposeCellFile(
    texts.map(({ path, text }) => ({ path, text: text.ok ? text.value : '' })),
    options.output ?? 'cells.yaml',
  );
  if (!proposed.ok) return refused(2, proposed.problems, json);
  const { yaml, open } = proposed.value;
  const notes = problemsText(proposed.notes);
  if (options.output !== undefined) {
    const { writeNew } = await import('./write-new.ts');
    const written = writeNew(options.output, yaml);
    if (!written.ok) return refused(2, written.problems, json);
  }
  if (json)
    return { status: 0, out: `${jsonText({ status: 0, yaml, open, notes: proposed.notes })}\n`, err: '' };
  const points = `${open.length} points are open; each is marked in the cell file\n`;
  return { status: 0, out: options.output === undefined ? yaml : '', err: notes + points };
}
