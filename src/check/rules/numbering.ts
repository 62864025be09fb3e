/** The order of the bond pads: their numbers around the ring, and the row that comes first. */
import type { Hit, Rule } from '../finding.ts';
import { hitAt } from '../say.ts';
import { sideIndex, sideName } from '../turn.ts';
import type { PadView, View } from '../view.ts';

/** Numbers run from 1 around the ring, from the end of the side and in the direction that the file names. */
function numbering(view: View): readonly Hit[] {
  const { start, direction } = view.placement.numbering;
  const from = sideIndex(start.side);
  const forward = direction === 'counter-clockwise';
  const around = forward ? view.ringPads : [...view.ringPads].reverse();
  const first = startOf(view, from, start.end, forward);
  const at = first === undefined ? 0 : around.indexOf(first);
  const hits: Hit[] = [];
  for (let k = 0; k < around.length; k++) {
    const p = around[(at + k) % around.length];
    if (p === undefined || p.pad.number === k + 1) continue;
    hits.push(
      hitAt(
        p,
        `the bond pad of "${p.pad.pin}" bears number ${p.pad.number}; counted around the ring it is ${k + 1}`,
        p.pad.pin,
      ),
    );
  }
  return hits;
}

/** The pad that counting starts with: on the named side, or on the next one that has any. */
function startOf(view: View, from: number, end: 'first' | 'last', forward: boolean): PadView | undefined {
  const own = view.sidePads[from] ?? [];
  if (own.length > 0) return end === 'first' ? own[0] : own[own.length - 1];
  for (let k = 1; k < 4; k++) {
    const pads = view.sidePads[(from + (forward ? k : 4 - k)) & 3] ?? [];
    if (pads.length > 0) return forward ? pads[0] : pads[pads.length - 1];
  }
  return undefined;
}

/** Which row a side with two begins with, unless the description named a row. */
function rowFirst(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const { first } = view.placement.rules.rows;
  view.sidePads.forEach((pads, at) => {
    const leading = pads[0];
    if (leading === undefined || leading.pad.row === 'single' || leading.pad.row === first) return;
    if (!pads.some((p) => p.pad.row === first)) return;
    hits.push(
      hitAt(
        leading,
        `the ${sideName(at)} side begins with the ${leading.pad.row} row; the rules name the ${first} one first`,
        leading.pad.pin,
      ),
    );
  });
  return hits;
}

export const NUMBERING_RULES: readonly Rule[] = [
  {
    name: 'numbering',
    severity: 'error',
    protects: 'That the assembly house counts the bond pads as the list does.',
    mend: 'Number the bond pads from 1 in ring order, from the start and in the direction that the file names.',
    run: numbering,
  },
  {
    name: 'row-first',
    severity: 'note',
    protects: 'That whoever relies on the row that comes first knows of a side that begins with the other.',
    mend: 'Nothing, where the description names the row; else exchange the rows.',
    run: rowFirst,
  },
];
