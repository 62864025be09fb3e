/** `ringwright view`: the ring in the browser, laid again whenever one of its files is saved. */
import type { Run } from '../run.ts';
import { counted, type Declare, problemsText, type Result, refused } from './command.ts';

export interface ViewOptions {
  readonly port?: string;
  readonly open: boolean;
}

export const declareView: Declare = (program, run) => {
  program
    .command('view')
    .description('show the ring in the browser and lay it again whenever one of its files is saved')
    .argument('<ring.yaml>', 'ring description')
    .option('--port <number>', 'port on the loopback address (default: any free one)')
    .option('--no-open', 'do not open the browser')
    .addHelpText('after', '\nExample:\n  ringwright view ring.yaml\n\nCtrl+C ends it, with exit status 0.\n')
    .action((path: string, options: ViewOptions) => run(() => view(path, options)));
};

/** Ends with status 0 when it is interrupted; what happens meanwhile is printed as it happens. */
export async function view(path: string, options: ViewOptions): Promise<Result> {
  const port = portOf(options.port);
  if (port === undefined)
    return refused(
      2,
      [
        {
          code: 'bad-port',
          message: `\`${options.port}\` is no port`,
          mend: 'a whole number from 0 to 65535',
        },
      ],
      false,
    );
  const [{ viewLive }, { openBrowser }, { readText }] = await Promise.all([
    import('../serve/live.ts'),
    import('../serve/browser.ts'),
    import('./files.ts'),
  ]);
  const description = readText(path);
  if (!description.ok) return refused(2, description.problems, false);
  const end = interrupted();
  const live = await viewLive(path, readText, port, tell);
  if (!live.ok) return refused(2, live.problems, false);
  process.stdout.write(`${path} is shown at ${live.value.url} (Ctrl+C ends it)\n`);
  if (options.open) openBrowser(live.value.url);
  await end;
  await live.value.stop();
  return { status: 0, out: '', err: '' };
}

function portOf(text: string | undefined): number | undefined {
  if (text === undefined) return 0;
  const port = Number(text);
  return /^\d{1,5}$/.test(text) && port <= 65_535 ? port : undefined;
}

/** One line an outcome, and its problems. */
function tell(outcome: Run): void {
  if (outcome.kind === 'laid') {
    const { bondPads, findings } = outcome.placement;
    process.stdout.write(
      `laid: ${counted(bondPads.length, 'bond pad')}, ${counted(findings.length, 'finding')}\n`,
    );
    return;
  }
  const { problems } = outcome;
  process.stderr.write(
    `${problemsText(problems)}${counted(problems.length, 'problem')}; the last ring stays in the page\n`,
  );
}

const interrupted = (): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => resolve());
  });
