/** Why the system did not let a file be written, as far as it is one of the usual reasons. */
import { codeOf } from './sets.ts';

export type Failure = 'no-room' | 'no-permission' | 'in-the-way';

const FAILURES: Readonly<Record<string, Failure>> = {
  ENOSPC: 'no-room',
  EDQUOT: 'no-room',
  EFBIG: 'no-room',
  EACCES: 'no-permission',
  EPERM: 'no-permission',
  EROFS: 'no-permission',
  EEXIST: 'in-the-way',
  ENOTDIR: 'in-the-way',
};

export const failureOf = (error: unknown): Failure | undefined => FAILURES[codeOf(error)];
