/** The known name that a misspelt one most likely meant. */

/** Edit distance where an exchange of neighbours counts once (Damerau, restricted), with an upper bound. */
function distance(a: string, b: string, bound: number): number {
  if (Math.abs(a.length - b.length) > bound) return bound + 1;
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min((above[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (above[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, (before[j - 2] ?? 0) + 1);
      row.push(least);
    }
    before = above;
    above = row;
  }
  return above[b.length] ?? 0;
}

/** The nearest known name within a third of the word's length (two at least), or undefined. */
export function nearest(word: string, known: Iterable<string>): string | undefined {
  const short = word.slice(0, 80);
  let best: string | undefined;
  let least = Math.max(2, Math.floor(short.length / 3)) + 1;
  for (const name of known) {
    const d = distance(short.toLowerCase(), name.toLowerCase(), least);
    if (d < least) [best, least] = [name, d];
  }
  return best;
}
