/** Strips that a cell other than a break cell cuts on one layer, while the lane goes on in another strip. */
import type { Hit, Rule } from '../finding.ts';
import type { Kind } from '../kinds.ts';
import { few, hitAt } from '../say.ts';
import type { CellView, View } from '../view.ts';

/** What a kind cuts and carries on of its lanes, as `VDD on M5`; undefined where no lane is cut in part. */
function cutInPart({ footprint }: Kind): readonly string[] | undefined {
  if (footprint.role === 'break') return undefined;
  let cuts: Set<string> | undefined;
  for (const { lane, strips } of footprint.lanes) {
    if (!strips.some((strip) => strip.carry === 'through')) continue;
    for (const { layer, carry } of strips)
      if (carry === 'cut') {
        cuts ??= new Set();
        cuts.add(`${lane} on ${layer}`);
      }
  }
  return cuts === undefined ? undefined : [...cuts];
}

function cuts(view: View): readonly Hit[] {
  const inPart = new Map<Kind, readonly string[]>();
  for (const kind of view.kinds) {
    const list = cutInPart(kind);
    if (list !== undefined) inPart.set(kind, list);
  }
  if (inPart.size === 0) return [];
  const cells = new Map<Kind, { readonly first: CellView; count: number }>();
  for (const cell of view.ring) {
    if (cell.kind === null || !inPart.has(cell.kind)) continue;
    const own = cells.get(cell.kind);
    if (own === undefined) cells.set(cell.kind, { first: cell, count: 1 });
    else own.count++;
  }
  return [...cells].map(([kind, { first, count }]) => {
    const who = `cell "${first.name}"${count === 1 ? '' : ` and ${count - 1} more`} of ${kind.footprint.name}`;
    return hitAt(
      first,
      `${who} ${count === 1 ? 'cuts' : 'cut'} ${few(inPart.get(kind) ?? [])}, while each lane goes on in another strip`,
      kind.footprint.name,
    );
  });
}

export const STRIP_CUT_RULES: readonly Rule[] = [
  {
    name: 'strip-cut',
    severity: 'note',
    protects: 'That whoever counts on the metal of a lane knows where one of its strips is cut.',
    mend: 'Nothing, if the strips that go on carry the current; else take a cell that carries them all.',
    run: cuts,
  },
];
