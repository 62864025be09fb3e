/** The file system as the stations see it: text in, or a problem that says what is wrong. */
import { readFileSync, statSync } from 'node:fs';
import { failed, found, type Outcome } from '../problems/problem.ts';

/** Larger inputs are no ring descriptions; the limit keeps a wrong path from filling the memory. */
const LARGEST = 256 * 1024 * 1024;

/** Reads a UTF-8 text file; a missing, unreadable or binary one is a problem. */
export function readText(path: string): Outcome<string> {
  const problem = (code: string, message: string, mend?: string): Outcome<string> =>
    failed({
      code,
      message,
      ...(mend === undefined ? {} : { mend }),
      place: { file: path, line: 1, column: 1 },
    });
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) return problem('is-a-folder', 'this is a folder, not a file');
    if (!stat.isFile())
      return problem('not-a-file', 'this is a device or a pipe, not a file', 'save the text as a file');
    if (stat.size > LARGEST) return problem('file-too-large', `the file has ${stat.size} bytes`);
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(readFileSync(path));
    return found(text);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (code === 'ENOENT' || code === 'ENOTDIR')
      return problem(
        'no-such-file',
        'there is no such file',
        'check the path; it is relative to the file that names it',
      );
    if (code === 'EACCES' || code === 'EPERM') return problem('not-allowed', 'the file may not be read');
    if (code === 'ERR_ENCODING_INVALID_ENCODED_DATA')
      return problem('not-text', 'the file is not UTF-8 text', 'save it as UTF-8');
    return problem('unreadable', `the file cannot be read${code === '' ? '' : ` (${code})`}`);
  }
}
