/**
 * Rules that look at one cell or one bond pad at a time. All of them look at some hundred shapes before any goes on to
 * the next hundred: in a large ring, fetching the shapes costs more than looking at them.
 */
import type { Hit } from '../finding.ts';
import { once } from '../once.ts';
import type { CellView, PadView, View } from '../view.ts';

/** What a rule says of one shape: nothing, one thing or several. */
type Look<T> = (shape: T, view: View) => Hit | readonly Hit[] | undefined;

const BLOCK = 256;

/** Makes rules of looks at the shapes of a list. */
function looksAt<T>(list: (view: View) => readonly T[]): (look: Look<T>) => (view: View) => readonly Hit[] {
  const looks: Look<T>[] = [];
  const found = once((view): readonly (readonly Hit[])[] => {
    const shapes = list(view);
    const hits = looks.map((): Hit[] => []);
    for (let from = 0; from < shapes.length; from += BLOCK) {
      const to = Math.min(from + BLOCK, shapes.length);
      looks.forEach((look, k) => {
        lookThrough(look, shapes, from, to, view, hits[k] ?? []);
      });
    }
    return hits;
  });
  return (look) => {
    const place = looks.push(look) - 1;
    return (view) => found(view)[place] ?? [];
  };
}

function lookThrough<T>(
  look: Look<T>,
  shapes: readonly T[],
  from: number,
  to: number,
  view: View,
  hits: Hit[],
): void {
  for (let i = from; i < to; i++) {
    const said = look(shapes[i] as T, view);
    if (said === undefined) continue;
    if ('message' in said) hits.push(said);
    else hits.push(...said);
  }
}

/** Runs a look at each cell and gathers what it says. */
export const eachCell = looksAt<CellView>((view) => view.cells);

/** Runs a look at each bond pad and gathers what it says. */
export const eachPad = looksAt<PadView>((view) => view.pads);

/** Runs a look at each stem and gathers what it says. */
export const eachStem = looksAt((view) => view.stems);

/** A rule that says what several looks say, one after the other. */
export const joined =
  (...parts: readonly ((view: View) => readonly Hit[])[]) =>
  (view: View): readonly Hit[] =>
    parts.flatMap((part) => part(view));
