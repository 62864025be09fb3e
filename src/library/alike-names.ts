/** Cells, lanes and landings whose names only look different to a machine. */
import type { Place, Problem } from '../problems/problem.ts';
import { alikeNames, spelled } from '../problems/unseen.ts';
import { type Book, type Candidate, quoted } from './book.ts';
import type { Footprint } from './footprint.ts';

export function checkAlikeNames(
  { source, lanes, problems }: Book,
  candidates: readonly Candidate[],
  footprints: ReadonlyMap<string, Footprint>,
): void {
  const look = (kind: string, names: Iterable<string>, placeOf: (name: string) => Place): void => {
    for (const [first, second] of alikeNames(names))
      problems.push(alike(kind, first, second, placeOf(second)));
  };
  const drawn = new Map(candidates.map(({ name, macro }) => [name, macro?.place]));
  const cellPlace = (name: string): Place => drawn.get(name) ?? source.placeOfKey(['cells', name]);
  look('cells', drawn.keys(), cellPlace);
  look('lanes', lanes, (lane) => source.placeOfKey(['lanes', lane]));
  for (const [cell, { landings }] of footprints)
    look(
      `landings of \`${quoted(cell)}\``,
      landings.map((landing) => landing.name),
      () => cellPlace(cell),
    );
}

const alike = (kind: string, first: string, second: string, place: Place): Problem => ({
  code: 'alike-names',
  message: `two ${kind} have names that look like \`${quoted(second)}\`: \`${quoted(spelled(first))}\` and \`${quoted(spelled(second))}\``,
  mend: 'write both alike where one is meant, or name one of the two otherwise',
  place,
});
