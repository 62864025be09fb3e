/** Splitting LEF into words: blanks part them, `;` stands alone, `#` starts a comment, quotes hold a text. */

export interface Words {
  /** The next word, or an empty text at the end. A quoted text keeps its quotes, so it is never a keyword. */
  readonly take: () => string;
  /** The word that `take` gives next. */
  readonly peek: () => string;
  /** Where the word taken last starts. */
  readonly at: () => number;
  /** Where the first quotes open that are never closed, or -1. */
  readonly openQuotes: () => number;
  /** Makes every further word an empty text. */
  readonly stop: () => void;
}

const [TAB, FEED, RETURN, BLANK] = [0x09, 0x0a, 0x0d, 0x20];
const [QUOTES, HASH, SEMICOLON, BACKSLASH] = [0x22, 0x23, 0x3b, 0x5c];

export function wordsOf(text: string): Words {
  let next = 0;
  let [start, ahead] = [0, -1];
  let [aheadStart, aheadText] = [0, ''];
  let open = -1;

  const read = (): string => {
    for (;;) {
      let code = text.charCodeAt(next);
      while (code === BLANK || code === FEED || code === TAB || code === RETURN)
        code = text.charCodeAt(++next);
      if (code !== HASH) break;
      const end = text.indexOf('\n', next);
      next = end < 0 ? text.length : end;
    }
    start = next;
    if (next >= text.length) return '';
    const first = text.charCodeAt(next);
    if (first === SEMICOLON) {
      next++;
      return ';';
    }
    if (first === QUOTES) return quoted();
    for (;;) {
      const code = text.charCodeAt(++next);
      if (Number.isNaN(code) || code === BLANK || code === FEED || code === TAB || code === RETURN) break;
      if (code === SEMICOLON) break;
    }
    return text.slice(start, next);
  };

  const quoted = (): string => {
    let end = next + 1;
    while (end < text.length && text.charCodeAt(end) !== QUOTES)
      end += text.charCodeAt(end) === BACKSLASH ? 2 : 1;
    if (end >= text.length) {
      if (open < 0) open = start;
      // Without their end, the quotes are taken to end with the line.
      const line = text.indexOf('\n', next);
      next = line < 0 ? text.length : line;
    } else next = end + 1;
    return text.slice(start, next);
  };

  const peek = (): string => {
    if (ahead < 0) {
      const before = start;
      aheadText = read();
      aheadStart = start;
      start = before;
      ahead = 1;
    }
    return aheadText;
  };

  const take = (): string => {
    if (ahead < 0) return read();
    ahead = -1;
    start = aheadStart;
    return aheadText;
  };

  const stop = (): void => {
    next = text.length;
    ahead = -1;
  };

  return { take, peek, at: () => start, openQuotes: () => open, stop };
}
