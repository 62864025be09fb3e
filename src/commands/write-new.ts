/** Writing a file that must not be there yet. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { failed, found, type Outcome } from '../problems/problem.ts';
import { noName } from './files.ts';

/** Writes a new file; one that is there already is never overwritten. */
export function writeNew(path: string, text: string): Outcome<string> {
  if (path === '') return failed(noName('the file', 'name a file, such as `-o cells.yaml`'));
  try {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text, { flag: 'wx' });
    return found(path);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
    const there = code === 'EEXIST';
    return failed({
      code: there ? 'file-is-there' : 'cannot-write',
      message: there
        ? 'the file is there already and is not overwritten'
        : `the file cannot be written (${code})`,
      mend: there ? 'choose another name, or remove it first' : 'check the folder and its permissions',
      place: { file: path, line: 1, column: 1 },
    });
  }
}
