/** The YAML library's errors in plain words. */
import type { CST, ErrorCode, YAMLError } from 'yaml';
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
  KEY_OVER_1024_CHARS: {
    message: 'a key is longer than 1024 signs',
    mend: `look for a missing line end, or ${QUOTES} if its colons belong to it`,
  },
  TAB_AS_INDENT: { message: 'a tab stands in the indentation', mend: 'indent with spaces' },
  BAD_SCALAR_START: { message: 'a text cannot start with this sign', mend: QUOTES },
  BAD_DQ_ESCAPE: {
    message: 'this backslash sequence has no meaning in double quotes',
    mend: 'write single quotes, or double the backslash',
  },
  TAG_RESOLVE_FAILED: { message: 'this tag has no meaning here', mend: 'leave the tag out' },
  BLOCK_IN_FLOW: {
    message: 'a second key, or a list of its own lines, stands inside brackets',
    mend: 'look for a missing comma before it, write the list in brackets too, or take the brackets away',
  },
};

/** Words for errors that share a code with others, by the library's own. */
const SAID: readonly (readonly [said: RegExp, words: Words])[] = [
  [
    /^Unexpected flow-map-end/,
    { message: 'the `}` here closes nothing', mend: 'take it away, or look for a missing `{` before it' },
  ],
  [
    /^Unexpected flow-seq-end/,
    { message: 'the `]` here closes nothing', mend: 'take it away, or look for a missing `[` before it' },
  ],
  [
    /^Unexpected /,
    {
      message: 'what stands here belongs to nothing before it',
      mend: `indent what belongs together by the same number of spaces, or ${QUOTES} as a whole`,
    },
  ],
  [
    /^Implicit map keys need/,
    {
      message: 'a key without a colon stands here',
      mend: 'write a colon and a blank after it, or indent the line if it goes on with the text above',
    },
  ],
  [
    /^Missing ,/,
    { message: 'a comma is missing between two things in brackets', mend: 'put one before this' },
  ],
  [/^(Alias|Anchor) cannot be an empty/, { message: 'a name is missing after this sign', mend: QUOTES }],
];

/** What follows from an error before it: once the document has ended, all that comes after is unexpected. */
const FOLLOWS = /^Unexpected .* token in YAML stream/;

/** Brackets and quotes that are never closed, and what would close them. */
interface Open {
  readonly offset: number;
  readonly sign: string;
}

const isOpenEnd = (error: YAMLError): boolean =>
  /^(Missing closing|Flow \w+ .*must end with|Flow \w+ .*and end with)/.test(error.message);

/** The errors without those that follow from one before. */
export function causes(errors: readonly YAMLError[]): readonly YAMLError[] {
  const first = errors.findIndex(({ code }) => code === 'UNEXPECTED_TOKEN');
  return errors.filter(({ message }, i) => i <= first || !FOLLOWS.test(message));
}

/** The library's errors as problems; what is never closed is told where it opens, not where that is noticed. */
export function syntaxProblems(
  errors: readonly YAMLError[],
  tokens: readonly CST.Token[],
  lines: Lines,
): readonly Problem[] {
  const open = errors.some(isOpenEnd) ? openIn(tokens) : [];
  let next = 0;
  return errors.flatMap((error) => {
    const opened = isOpenEnd(error) ? open[next++] : undefined;
    if (opened !== undefined) return [neverClosed(opened, lines)];
    const twin = TWINS.indexOf(error.code);
    const other = TWINS[1 - twin];
    const both = twin >= 0 && errors.some(({ code, pos }) => code === other && pos[0] === error.pos[0]);
    if (!both) return [syntaxProblem(error, lines)];
    return twin === 0 ? [{ ...FURTHER, place: lines(error.pos[0]) }] : [];
  });
}

/** Told together: a line that is indented further than the key above, so that its colon comes into that key's text. */
const TWINS: readonly ErrorCode[] = ['BLOCK_AS_IMPLICIT_KEY', 'MULTILINE_IMPLICIT_KEY'];
const FURTHER = {
  code: 'yaml-syntax',
  message: 'the text that begins here goes on in the next line, which has a key of its own',
  mend: 'indent the next line by as many spaces as this one, or take the text away if the keys below belong to this one',
};

function neverClosed({ offset, sign }: Open, lines: Lines): Problem {
  const quotes = sign === '"' || sign === "'";
  return {
    code: 'yaml-syntax',
    message: quotes ? 'the quotes that open here are never closed' : `the \`${sign}\` here is never closed`,
    mend: quotes
      ? `close them with ${sign === '"' ? 'double' : 'single'} quotes where the text ends`
      : `close it with \`${sign === '{' ? '}' : ']'}\` where the ${sign === '{' ? 'group' : 'list'} ends`,
    place: lines(offset),
  };
}

/** What is never closed, in the order in which the library complains of it: the inner one before that around it. */
function openIn(tokens: readonly CST.Token[]): readonly Open[] {
  const found: Open[] = [];
  const look = (token: CST.Token | null | undefined): void => {
    if (!token) return;
    if (token.type === 'document') look(token.value);
    else if ('items' in token) {
      for (const item of token.items) {
        if ('key' in item) look(item.key);
        look(item.value);
      }
      if (token.type !== 'flow-collection') return;
      const { offset, source } = token.start;
      if (token.end[0]?.source !== (source === '{' ? '}' : ']')) found.push({ offset, sign: source });
    } else if (token.type === 'double-quoted-scalar' || token.type === 'single-quoted-scalar') {
      const { offset, source } = token;
      const sign = source.charAt(0);
      if (source.length < 2 || !source.endsWith(sign)) found.push({ offset, sign });
    }
  };
  for (const token of tokens) look(token);
  return found;
}

function syntaxProblem(error: YAMLError, lines: Lines): Problem {
  const words = SAID.find(([said]) => said.test(error.message))?.[1] ?? WORDS[error.code];
  const said = error.message.replace(/\s+/g, ' ').replace(/\.$/, '');
  return {
    code: 'yaml-syntax',
    message: words?.message ?? said.charAt(0).toLowerCase() + said.slice(1, 200),
    ...(words?.mend === undefined ? {} : { mend: words.mend }),
    place: lines(error.pos[0]),
  };
}
