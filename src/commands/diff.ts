/** `ringwright diff`: two placement files against each other. */
import { jsonText } from '../problems/unseen.ts';
import { type Declare, type Result, refused } from './command.ts';

export interface DiffOptions {
  readonly json?: boolean;
  /** The file that the drawing goes into; none is written without it. */
  readonly output?: string;
}

export const declareDiff: Declare = (program, run) => {
  program
    .command('diff')
    .description('say what changed from one placement file to another')
    .argument('<before.json>', 'the placement file before')
    .argument('<now.json>', 'the placement file now')
    .option('-o, --output <file.svg>', 'draw both dies to one scale, what moved with arrows')
    .option('--json', 'print the difference as JSON')
    .addHelpText(
      'after',
      '\nExample:\n  ringwright diff out/monday/placement.json out/friday/placement.json -o diff.svg\n' +
        '\nExit status: 0 the same ring, 1 another, 2 unreadable input or a wrong call.\n',
    )
    .action((before: string, now: string, options: DiffOptions) => run(() => diff(before, now, options)));
};

/** 0: the same ring. 1: another. 2: a file that cannot be read, or a drawing that cannot be written. */
export async function diff(before: string, now: string, options: DiffOptions): Promise<Result> {
  const json = options.json === true;
  const [{ readText }, { readPlacement }, { difference, isEmpty }] = await Promise.all([
    import('./files.ts'),
    import('../format/read.ts'),
    import('../compare/difference.ts'),
  ]);
  const [a, b] = [before, now].map((path) => {
    const text = readText(path);
    return text.ok ? readPlacement(text.value, path) : text;
  });
  const problems = [a, b].flatMap((read) => (read === undefined || read.ok ? [] : read.problems));
  if (!a?.ok || !b?.ok) return refused(2, problems, json);
  const found = difference(a.value, b.value);
  const status = isEmpty(found) ? 0 : 1;
  let wrote = '';
  if (options.output !== undefined) {
    const [{ differenceSvg }, { replaceDrawing }] = await Promise.all([
      import('../write/difference-svg.ts'),
      import('./replace-file.ts'),
    ]);
    const written = replaceDrawing(options.output, 'diff', differenceSvg(a.value, b.value, found));
    if (!written.ok) return refused(2, written.problems, json);
    wrote = `wrote ${options.output}\n`;
  }
  if (json) return { status, out: `${jsonText({ status, ...found })}\n`, err: '' };
  const { differenceText } = await import('../compare/text.ts');
  return { status, out: `${differenceText(found)}${wrote}`, err: '' };
}
