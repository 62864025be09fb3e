/** Writing one drawing so that whoever reads it sees the old one or the finished new one, and nothing else is lost. */
import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import { noName, ofFile, unwritten } from './files.ts';

/** Where a drawing says within its first signs whose it is, and which one. */
const HEAD = 1000;

/**
 * Writes a drawing beside its place and renames; a failure leaves what was there. What stands there already is replaced
 * only where it is an older one of the same drawing, by the `id` of its root: a slip of the name must not cost a ring.
 */
export function replaceDrawing(path: string, id: string, svg: string): Outcome<string> {
  if (path === '') return failed(noName('the drawing', 'name a file, such as `-o drawing.svg`'));
  const beside = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    const stands = standing(path, id);
    if (stands !== undefined) return failed(stands);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(beside, svg);
    renameSync(beside, path);
    return found(path);
  } catch (error) {
    // Where a file stands in place of a folder, looking for what was written beside it fails as well.
    if (existsSync(beside)) rmSync(beside, { force: true });
    return failed(unwritten(path, error));
  }
}

/** What stands at the drawing's place and must stay. */
function standing(path: string, id: string): Problem | undefined {
  const stats = statSync(path, { throwIfNoEntry: false });
  if (stats === undefined) return undefined;
  if (stats.isDirectory())
    return ofFile(path, 'is-a-folder', 'this is a folder, not a file', 'name a file in it');
  if (!stats.isFile())
    return ofFile(path, 'not-a-file', 'this is a device or a pipe, not a file', 'choose another name');
  if (headOf(path).includes(`id="${id}" class="ringwright"`)) return undefined;
  return ofFile(
    path,
    'file-is-there',
    'the file is there already and is no older one of this drawing, so it is not overwritten',
    'choose another name, or remove it first',
  );
}

function headOf(path: string): string {
  const file = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(HEAD);
    return bytes.toString('utf8', 0, readSync(file, bytes, 0, HEAD, 0));
  } finally {
    closeSync(file);
  }
}
