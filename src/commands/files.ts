/** The file system as the stations see it: text in, or a problem that says what is wrong. */
import { readFileSync, statSync } from 'node:fs';
import { failed, found, type Outcome, type Problem } from '../problems/problem.ts';
import { type Failure, failureOf } from '../write/failure.ts';
import { codeOf } from '../write/sets.ts';

/** A file or folder that is given by an empty name; there is no place to tell. */
export const noName = (what: string, mend: string): Problem => ({
  code: 'no-name',
  message: `${what} is named by an empty text`,
  mend,
});

/** What stands against a file as a whole. */
export const ofFile = (path: string, code: string, message: string, mend?: string): Problem => ({
  code,
  message,
  ...(mend === undefined ? {} : { mend }),
  place: { file: path, line: 1, column: 1 },
});

const UNWRITTEN: Readonly<Record<Failure, readonly [why: string, mend: string]>> = {
  'no-room': ['the disk has no room', 'free some room, or write it elsewhere'],
  'no-permission': ['no permission', 'allow writing there, or write it elsewhere'],
  'in-the-way': ['a file is in the way of its folder', 'name another folder'],
};

/** Why a file cannot be written, in words where the reason is one of the usual ones. */
export function unwritten(path: string, error: unknown): Problem {
  const failure = failureOf(error);
  const [why, mend] =
    failure === undefined
      ? [codeOf(error) || 'unknown', 'check the folder, its permissions and the room on the disk']
      : UNWRITTEN[failure];
  return ofFile(path, 'cannot-write', `the file cannot be written (${why})`, mend);
}

/** Larger inputs are no ring descriptions; the limit keeps a wrong path from filling the memory. */
const LARGEST = 256 * 1024 * 1024;

/** A file's bytes as text; bytes that no UTF-8 text has are a problem. */
export function decoded(bytes: Uint8Array, path: string): Outcome<string> {
  try {
    return found(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch {
    return failed(ofFile(path, 'not-text', 'the file is not UTF-8 text', 'save it as UTF-8'));
  }
}

/** Reads a UTF-8 text file; a missing, unreadable or binary one is a problem. */
export function readText(path: string): Outcome<string> {
  const problem = (code: string, message: string, mend?: string): Outcome<string> =>
    failed(ofFile(path, code, message, mend));
  if (path === '') return failed(noName('a file', 'give its path'));
  try {
    const stat = statSync(path);
    if (stat.isDirectory())
      return problem('is-a-folder', 'this is a folder, not a file', 'name a file in it');
    if (!stat.isFile())
      return problem('not-a-file', 'this is a device or a pipe, not a file', 'save the text as a file');
    if (stat.size > LARGEST)
      return problem('file-too-large', `the file has ${stat.size} bytes; at most ${LARGEST} are read`);
    return decoded(readFileSync(path), path);
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT' || code === 'ENOTDIR')
      return problem(
        'no-such-file',
        'there is no such file',
        'check the path; it is relative to the file that names it',
      );
    if (code === 'EACCES' || code === 'EPERM')
      return problem('not-allowed', 'the file may not be read', 'check its permissions');
    return problem('unreadable', `the file cannot be read${code === '' ? '' : ` (${code})`}`);
  }
}

/** Whether a folder stands at a path; what cannot be looked at is none. */
export function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
}
