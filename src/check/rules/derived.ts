/** Counts and figures that the file reports of itself: a stale one harms no silicon, but misleads a reader. */
import type { Hit, Rule } from '../finding.ts';
import { hit } from '../say.ts';
import { SIDE_NAMES, sideName } from '../turn.ts';
import type { View } from '../view.ts';
import { railCounts } from './listed-rails.ts';

function sideCounts(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const entry of view.placement.sides) {
    const side = SIDE_NAMES.indexOf(entry.side);
    const row = view.rows[side] ?? [];
    const derived = {
      cells: row.length,
      bondPads: view.sidePads[side]?.length ?? 0,
      filled: row.reduce((sum, c) => sum + (c.role === 'filler' ? c.s1 - c.s0 : 0), 0) / 1e6,
    };
    for (const key of ['cells', 'bondPads', 'filled'] as const)
      if (entry[key] !== derived[key])
        hits.push(
          hit(`the ${entry.side} side reports ${key} ${entry[key]}; it is ${derived[key]}`, entry.side),
        );
  }
  return hits;
}

function summary(view: View): readonly Hit[] {
  const { roles, pitches, area } = view.placement.summary;
  const hits: Hit[] = [];
  const counts = new Map<string, number>();
  for (const c of view.cells) counts.set(c.role, (counts.get(c.role) ?? 0) + 1);
  const listed = new Map<string, number>(Object.entries(roles));
  for (const role of new Set([...counts.keys(), ...listed.keys()])) {
    const [is, says] = [counts.get(role) ?? 0, listed.get(role) ?? 0];
    if (is !== says)
      hits.push(hit(`the summary counts ${says} cells of role ${role}; there are ${is}`, role));
  }
  for (let side = 0; side < 4; side++) {
    const says = pitches.filter((p) => p.side === sideName(side));
    const { least, greatest } = pitchesOf(view, side);
    if (says.length !== 1 || says[0]?.least !== least || says[0].greatest !== greatest)
      hits.push(
        hit(
          `the summary's pitches of the ${sideName(side)} side are not its bond pads': ${least ?? 'none'} to ${greatest ?? 'none'}`,
          sideName(side),
        ),
      );
  }
  const { die, core } = view.placement;
  for (const [name, extent, says] of [
    ['die', die, area.die],
    ['core', core, area.core],
  ] as const) {
    const is = Number((extent.width * extent.height).toFixed(6));
    const tells = Number.isFinite(is) ? `it has ${is}` : 'that cannot be';
    if (is !== says)
      hits.push(hit(`the summary gives the ${name} ${says} square micrometres; ${tells}`, name));
  }
  return hits;
}

/** The least and greatest distance of centres of bond pads that follow each other, whatever their row. */
function pitchesOf(
  view: View,
  side: number,
): { readonly least: number | null; readonly greatest: number | null } {
  const pads = view.sidePads[side] ?? [];
  if (pads.length < 2) return { least: null, greatest: null };
  let [least, greatest] = [Number.POSITIVE_INFINITY, 0];
  for (let i = 1; i < pads.length; i++) {
    const pitch = (pads[i]?.s ?? 0) - (pads[i - 1]?.s ?? 0);
    least = Math.min(least, pitch);
    greatest = Math.max(greatest, pitch);
  }
  return { least: least / 1e6, greatest: greatest / 1e6 };
}

export const DERIVED_RULES: readonly Rule[] = [
  {
    name: 'counts',
    severity: 'warning',
    protects: 'That the counts of cells, bond pads and filled length are those of the cells listed.',
    mend: 'Count anew after an edit: by side, and for each rail.',
    run: (view) => [...sideCounts(view), ...railCounts(view)],
  },
  {
    name: 'summary',
    severity: 'warning',
    protects: 'That the summary tells of this placement and not of an earlier one.',
    mend: 'Derive the summary anew after an edit.',
    run: summary,
  },
];
