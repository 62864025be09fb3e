/** Writing one file so that whoever reads it sees the old one or the finished new one. */
import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { failed, found, type Outcome } from '../problems/problem.ts';

/** Writes beside the file and renames; a failure leaves what was there. */
export function replaceFile(path: string, content: string | Uint8Array): Outcome<string> {
  const beside = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(beside, content);
    renameSync(beside, path);
    return found(path);
  } catch (error) {
    // Where a file stands in place of a folder, looking for what was written beside it fails as well.
    if (existsSync(beside)) rmSync(beside, { force: true });
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
    return failed({
      code: 'cannot-write',
      message: `the file cannot be written (${code})`,
      mend: 'check the folder, its permissions and the room on the disk',
      place: { file: path, line: 1, column: 1 },
    });
  }
}
