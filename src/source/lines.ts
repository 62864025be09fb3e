/** From an offset in a text to its line and column. */
import type { Place } from '../problems/problem.ts';

/** Finds the place of an offset; lines end with a line feed, columns count UTF-16 units. */
export type Lines = (offset: number) => Place;

/**
 * A text without its byte-order mark, whose lines end by a feed: a carriage return alone ends one too (YAML 1.2.2, 5.4;
 * tables of old spreadsheets), and becomes a feed, so that offsets stay.
 */
export const bareText = (text: string): string =>
  (text.charCodeAt(0) === 0xfeff ? text.slice(1) : text).replace(/\r(?!\n)/g, '\n');

/** The line starts are found once, at the first question. */
export function linesOf(text: string, file: string): Lines {
  let starts: readonly number[] | undefined;
  return (offset) => {
    starts ??= lineStarts(text);
    let [low, high] = [0, starts.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle;
      else high = middle - 1;
    }
    return { file, line: low + 1, column: offset - (starts[low] ?? 0) + 1 };
  };
}

/** One place of a text that is asked for once. */
export const placeAt = (text: string, file: string, offset: number): Place => linesOf(text, file)(offset);

function lineStarts(text: string): readonly number[] {
  const starts = [0];
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  return starts;
}
