/** `ringwright init`: a starter ring that builds as it is. */

import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { jsonText } from '../problems/unseen.ts';
import { type Declare, type Result, refused } from './command.ts';

const STARTER = ['ring.yaml', 'cells.yaml'] as const;

export const declareInit: Declare = (program, run) => {
  program
    .command('init')
    .description('put a small starter ring and its cell file into a folder; it builds as it is')
    .argument('[folder]', 'folder for the two files', '.')
    .option('--json', 'print the outcome as JSON')
    .addHelpText('after', '\nExample:\n  ringwright init first && ringwright build first/ring.yaml\n')
    .action((folder: string, options: { json?: boolean }) => run(() => init(folder, options)));
};

export async function init(folder: string, options: { json?: boolean }): Promise<Result> {
  const [{ writeNew }, { isFolder, noName, ofFile }] = await Promise.all([
    import('./write-new.ts'),
    import('./files.ts'),
  ]);
  const json = options.json === true;
  if (folder === '')
    return refused(2, [noName('the folder', 'name one, or leave it out for this folder')], json);
  if (existsSync(folder) && !isFolder(folder)) {
    const why = 'this is a file, and the starter ring goes into a folder';
    return refused(2, [ofFile(folder, 'not-a-folder', why, 'name a folder, which may be new')], json);
  }
  const there = STARTER.map((name) => join(folder, name)).filter((path) => existsSync(path));
  if (there.length > 0)
    return refused(
      2,
      there.map((path) => ({
        code: 'file-is-there',
        message: 'the file is there already and is not overwritten',
        mend: 'choose another folder',
        place: { file: path, line: 1, column: 1 },
      })),
      json,
    );
  const paths: string[] = [];
  for (const name of STARTER) {
    const path = join(folder, name);
    const written = writeNew(path, readFileSync(starterPath(name), 'utf8'));
    if (!written.ok) {
      // Half a starter ring would stand in the way of the next try.
      for (const one of paths) rmSync(one, { force: true });
      return refused(2, written.problems, json);
    }
    paths.push(path);
  }
  const next = `ringwright build ${join(folder, 'ring.yaml')}`;
  if (json) return { status: 0, out: `${jsonText({ status: 0, files: paths, next })}\n`, err: '' };
  return { status: 0, out: `wrote ${paths.join(' and ')}\nnext: ${next}\n`, err: '' };
}

/** The starter lies in the package, one folder up from the built program and two from this source. */
function starterPath(name: string): string {
  const [built, source] = ['../fixtures/starter/', '../../fixtures/starter/'].map((base) =>
    fileURLToPath(new URL(`${base}${name}`, import.meta.url)),
  );
  return built !== undefined && existsSync(built) ? built : (source ?? '');
}
