/** Writing a file that must not be there yet. */
import { closeSync, existsSync, mkdirSync, openSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { failed, found, type Outcome } from '../problems/problem.ts';
import { noName, ofFile, unwritten } from './files.ts';

/** Writes a new file; one that is there already is never overwritten, and one that cannot be finished is taken away. */
export function writeNew(path: string, text: string): Outcome<string> {
  if (path === '') return failed(noName('the file', 'name a file, such as `-o cells.yaml`'));
  let made = false;
  try {
    mkdirSync(dirname(path), { recursive: true });
    const file = openSync(path, 'wx');
    made = true;
    try {
      writeFileSync(file, text);
    } finally {
      closeSync(file);
    }
    return found(path);
  } catch (error) {
    if (made) rmSync(path, { force: true });
    if (made || !existsSync(path)) return failed(unwritten(path, error));
    return failed(
      ofFile(
        path,
        'file-is-there',
        'the file is there already and is not overwritten',
        'choose another name, or remove it first',
      ),
    );
  }
}
