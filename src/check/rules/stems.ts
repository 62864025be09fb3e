/** Stems: the metal from an outside bond pad to its landing. */
import type { Hit, Rule } from '../finding.ts';
import { closerThan } from '../near.ts';
import { hitAt, hitBetween, um } from '../say.ts';
import { onDie } from '../turn.ts';
import type { PadView, StemView, View } from '../view.ts';
import { eachPad, eachStem } from './each.ts';
import { stemShorts } from './stem-shorts.ts';

/** Whether a bond pad stands off its cell, so that metal must join the two. */
export function wantsStem(p: PadView, view: View): boolean {
  const style = view.layouts[p.side]?.style;
  return (style === 'inline' || style === 'staggered') && p.cell !== null && p.cell.t0 > p.t1;
}

/** What a finding calls a stem. */
const nameOf = (s: StemView): string => s.pad?.pad.pin ?? String(s.stem.bondPad);

const missing = eachPad((p, view) =>
  p.stems.length === 0 && wantsStem(p, view)
    ? hitAt(p, `no stem joins the bond pad of "${p.pad.pin}" to its cell`, p.pad.pin)
    : undefined,
);

const needless = eachPad((p, view) => {
  const wanted = wantsStem(p, view) ? 1 : 0;
  if (p.stems.length <= wanted) return undefined;
  const { pin } = p.pad;
  return hitAt(
    p,
    wanted === 0
      ? `the bond pad of "${pin}" meets its cell, yet has a stem`
      : `the bond pad of "${pin}" has ${p.stems.length} stems`,
    pin,
  );
});

/** From the pad's inner edge to the cell's outward edge, as wide as the rules say, centred on the landing. */
const shape = eachStem((s, view) => {
  const p = s.pad;
  if (p === null || !wantsStem(p, view)) return undefined;
  const { cell } = p;
  const place = cell?.kind?.landings[p.landing];
  if (cell === null || cell.pose === null || place === undefined) return undefined;
  const half = view.limits.stemWidth / 2;
  const centre = cell.pose.reversed ? cell.s1 - place.at : cell.s0 + place.at;
  const low = centre - half;
  const high = centre + half;
  const isAsked = s.s0 === low && s.s1 === high && s.t0 === p.t1 && s.t1 === cell.t0;
  const joined = Math.min(high, p.s1) - Math.max(low, p.s0);
  const whole = Math.min(high - low, p.s1 - p.s0);
  if (isAsked && joined >= whole) return undefined;
  const { pin } = p.pad;
  if (!isAsked) {
    const asked = onDie(p.side, view.die, low, high, p.t1, cell.t0);
    const size = `${um(asked.x1 - asked.x0)} by ${um(asked.y1 - asked.y0)}`;
    const corner = `(${asked.x0 / 1e6}, ${asked.y0 / 1e6})`;
    return hitAt(s, `the stem of "${pin}" should be ${size} at ${corner}, from its pad to its landing`, pin);
  }
  return hitAt(
    s,
    joined <= 0
      ? `the bond pad of "${pin}" is shifted so far that its stem no longer meets it`
      : `the bond pad of "${pin}" is shifted so far that its stem meets it over ${um(joined)} only`,
    pin,
  );
});

const layers = eachStem((s, view) => {
  const asked = view.placement.rules.stems.layers;
  const has = s.stem.layers;
  const alike = has === asked || (allOf(has, asked) && allOf(asked, has));
  // Metal on no layer joins nothing, whatever the rules say.
  if (alike && has.length > 0) return undefined;
  return hitAt(
    s,
    `the stem of "${nameOf(s)}" is on ${has.join(', ') || 'no layer'}; the rules say ${asked.join(', ') || 'none'}`,
    nameOf(s),
  );
});

function allOf(layers: readonly string[], asked: readonly string[]): boolean {
  for (const layer of layers) if (!asked.includes(layer)) return false;
  return true;
}

const spacing = (view: View): readonly Hit[] =>
  view.close.stems
    .filter(([stem, other]) => closerThan(stem, other, view.limits.stemSpacing))
    .map(([stem, other]) => {
      const isStem = 'stem' in other;
      const name = isStem ? nameOf(other) : other.pad.pin;
      return hitBetween(
        stem,
        other,
        `the stem of "${nameOf(stem)}" is closer than ${um(view.limits.stemSpacing)} to the ${isStem ? 'stem' : 'bond pad'} of "${name}"`,
        nameOf(stem),
        name,
      );
    });

/** A stem over a cell not its own, other than where it shorts: those have a rule of their own. */
function onCells(view: View): readonly Hit[] {
  const crossed = view.close.stemsOnCells;
  if (crossed.length === 0) return [];
  const shorted = new Map<StemView, Set<unknown>>();
  for (const { stem, cell } of stemShorts(view)) {
    const own = shorted.get(stem);
    if (own === undefined) shorted.set(stem, new Set([cell]));
    else own.add(cell);
  }
  return crossed
    .filter(([stem, cell]) => shorted.get(stem)?.has(cell) !== true)
    .map(([stem, cell]) =>
      hitBetween(
        stem,
        cell,
        `the stem of "${nameOf(stem)}" crosses cell "${cell.name}"`,
        nameOf(stem),
        cell.name,
      ),
    );
}

export const STEM_RULES: readonly Rule[] = [
  {
    name: 'stem-missing',
    severity: 'error',
    protects: 'That a bond pad outside the cells is joined to its cell.',
    mend: "Add the stem from the pad's inner edge to the cell.",
    run: missing,
  },
  {
    name: 'stem-needless',
    severity: 'error',
    protects: 'That no metal lies where nothing asks for it.',
    mend: 'Take the stem out.',
    run: needless,
  },
  {
    name: 'stem-shape',
    severity: 'error',
    protects: 'That a stem reaches from its pad to its landing in the width that the rules give.',
    mend: 'Draw the stem anew, as the message states it.',
    run: shape,
  },
  {
    name: 'stem-layers',
    severity: 'error',
    protects: 'That a stem is drawn on the layers that join pad and landing.',
    mend: "Set the stem's layers to those of the rules.",
    run: layers,
  },
  {
    name: 'stem-spacing',
    severity: 'error',
    protects: 'That a stem keeps its distance from bond pads and stems not its own.',
    mend: 'Move the cells apart, or narrow the stems or the pads.',
    run: spacing,
  },
  {
    name: 'stem-on-cell',
    severity: 'warning',
    protects: 'That the metal of a stem crosses no cell but its own.',
    mend: 'Give the cell a landing further from its edge, or the neighbour the same setback.',
    run: onCells,
  },
];
