/** The YAML library's errors in plain words. */
import type { ErrorCode, YAMLError } from 'yaml';
import type { Problem } from '../problems/problem.ts';
import type { Lines } from './lines.ts';

interface Words {
  readonly message: string;
  readonly mend?: string;
}

const QUOTES = 'put the text in quotes';

const WORDS: Partial<Record<ErrorCode, Words>> = {
  BAD_INDENT: {
    message: 'this line does not start where the lines around it do',
    mend: 'indent what belongs together by the same number of spaces',
  },
  BLOCK_AS_IMPLICIT_KEY: {
    message: 'a second key stands on one line',
    mend: `start a new, indented line for it, or ${QUOTES} if the colon belongs to it`,
  },
  MULTILINE_IMPLICIT_KEY: {
    message: 'a key and its colon must stand on one line',
    mend: 'look for a missing colon here or on the line above',
  },
  TAB_AS_INDENT: { message: 'a tab stands in the indentation', mend: 'indent with spaces' },
  BAD_SCALAR_START: { message: 'a text cannot start with this sign', mend: QUOTES },
  BAD_DQ_ESCAPE: {
    message: 'this backslash sequence has no meaning in double quotes',
    mend: 'write single quotes, or double the backslash',
  },
  TAG_RESOLVE_FAILED: { message: 'this tag has no meaning here', mend: 'leave the tag out' },
  BLOCK_IN_FLOW: {
    message: 'a list or key of its own lines stands inside brackets',
    mend: 'write it in brackets too, or take the brackets away',
  },
};

export function syntaxProblem(error: YAMLError, lines: Lines): Problem {
  const words = WORDS[error.code];
  const said = error.message.replace(/\s+/g, ' ').replace(/\.$/, '');
  return {
    code: 'yaml-syntax',
    message: words?.message ?? said.charAt(0).toLowerCase() + said.slice(1, 200),
    ...(words?.mend === undefined ? {} : { mend: words.mend }),
    place: lines(error.pos[0]),
  };
}
