/** Each bond pad by itself: its cell, landing and pin, its row, its opening, and its number. */
import type { Hit, Rule } from '../finding.ts';
import { hit, hitAt, um } from '../say.ts';
import { type Box, isVertical, sideName } from '../turn.ts';
import type { CellView, PadView, View } from '../view.ts';
import { eachCell, eachPad, joined } from './each.ts';
import { wantsStem } from './stems.ts';

/** What the footprint says of a pad's landing; undefined where there is none. */
const landingOf = (p: PadView) => p.cell?.kind?.landings[p.landing];

const side = eachPad((p) => {
  const { cell } = p;
  if (cell === null) return undefined;
  const { pin } = p.pad;
  if (cell.isCorner) return hitAt(p, `the bond pad of "${pin}" belongs to corner cell "${cell.name}"`, pin);
  if (cell.side === p.side) return undefined;
  return hitAt(
    p,
    `the bond pad of "${pin}" is listed on the ${sideName(p.side)} side, its cell on the ${sideName(cell.side)} one`,
    pin,
  );
});

/** Along s the pad stands at its landing plus its shift; a pad that its cell contains also along t. */
const landing = eachPad((p, view) => {
  const { cell } = p;
  const place = landingOf(p);
  if (cell?.kind == null || cell.pose === null || place === undefined || cell.side !== p.side)
    return undefined;
  const centre = cell.pose.reversed ? cell.s1 - place.at : cell.s0 + place.at;
  const { pin } = p.pad;
  const off = p.s - centre - p.shift;
  if (off !== 0)
    return hitAt(
      p,
      `the bond pad of "${pin}" stands ${um(Math.abs(off))} along the side from its landing "${place.name}"${p.shift === 0 ? '' : ' and shift'}`,
      pin,
    );
  if (place.inside !== null) {
    const asked = cell.t0 + place.inside.t;
    const middle = (p.t0 + p.t1) / 2;
    if (middle === asked) return undefined;
    return hitAt(
      p,
      `the bond pad of "${pin}" lies ${um(Math.abs(middle - asked))} across its place in the cell`,
      pin,
    );
  }
  if (wantsStem(p, view) || (p.s0 <= centre && p.s1 >= centre)) return undefined;
  return hitAt(p, `the bond pad of "${pin}" is shifted so far that it no longer meets its landing`, pin);
});

/** A pad that the cell contains has the size that the footprint gives. */
const inCell = eachPad((p, view) => {
  const place = landingOf(p);
  if (place === undefined) return undefined;
  const { pin } = p.pad;
  const style = view.layouts[p.side]?.style;
  if (place.inside === null)
    return style === 'in-cell'
      ? hitAt(
          p,
          `the ${sideName(p.side)} side is in-cell, but the cell of "${pin}" contains no bond pad`,
          pin,
        )
      : undefined;
  if (style !== 'in-cell')
    return hitAt(
      p,
      `the cell of "${pin}" contains its bond pad, but the ${sideName(p.side)} side is ${style}`,
      pin,
    );
  const opening = acrossAndDeep(p.side, p.opening);
  const { along, deep, openingAlong, openingDeep } = place.inside;
  if (
    p.s1 - p.s0 === along &&
    p.t1 - p.t0 === deep &&
    opening.along === openingAlong &&
    opening.deep === openingDeep
  )
    return undefined;
  return hitAt(
    p,
    `the bond pad of "${pin}" or its opening has not the size that its cell contains: ${um(along)} by ${um(deep)}, opening ${um(openingAlong)} by ${um(openingDeep)}`,
    pin,
  );
});

const acrossAndDeep = (at: number, b: Box): { readonly along: number; readonly deep: number } =>
  at === 0 || at === 2
    ? { along: b.y1 - b.y0, deep: b.x1 - b.x0 }
    : { along: b.x1 - b.x0, deep: b.y1 - b.y0 };

/** The rows that a style has, and where along t each begins. */
const row = eachPad((p, view) => {
  const layout = view.layouts[p.side];
  if (layout === undefined) return undefined;
  const { pin, row: name } = p.pad;
  const twoRows =
    layout.style === 'staggered' ||
    (layout.style === 'over-circuit' && view.placement.rules.rows.overCircuit === 2);
  if ((name === 'single') === twoRows)
    return hitAt(
      p,
      `the bond pad of "${pin}" is in row ${name}, which the ${sideName(p.side)} side does not have`,
      pin,
    );
  if (layout.style === 'in-cell') return undefined;
  const asked = name === 'inner' ? layout.inner : layout.first;
  if (p.t0 === asked) return undefined;
  return hitAt(
    p,
    `the ${name === 'single' ? '' : `${name} `}bond pad of "${pin}" begins ${um(p.t0)} from the die edge; its row begins at ${um(asked)}`,
    pin,
  );
});

/** How far a pad reaches past a corner cell across the pad's side; a corner cell has a frame of its own. */
const pastCorner = (p: PadView, c: CellView): number =>
  isVertical(p.side) ? Math.max(c.x0 - p.x0, p.x1 - c.x1) : Math.max(c.y0 - p.y0, p.y1 - c.y1);

/** Whether a pad covers some of a corner cell, and is not carried by it over its whole depth. */
const reachesPast = (p: PadView, c: CellView): boolean =>
  p.x0 < c.x1 && c.x0 < p.x1 && p.y0 < c.y1 && c.y0 < p.y1 && pastCorner(p, c) > 0;

/** Over circuit a pad lies within the depth of every cell that it covers. */
function depth(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const corners = view.corners.flat();
  view.sidePads.forEach((pads, side) => {
    if (view.layouts[side]?.style !== 'over-circuit') return;
    const row = view.rows[side] ?? [];
    let from = 0;
    for (const p of pads) {
      // Pads stand in order along the side, though a wide one may begin before the one ahead of it.
      while (from > 0 && (row[from - 1]?.s1 ?? 0) > p.s0) from--;
      while (from < row.length && (row[from]?.s1 ?? 0) <= p.s0) from++;
      const under: CellView[] = [];
      for (let k = from; k < row.length; k++) {
        const cell = row[k];
        if (cell === undefined || cell.s0 >= p.s1) break;
        under.push(cell);
      }
      if (p.cell !== null && !under.includes(p.cell)) under.push(p.cell);
      const beyond = under.find((c) => p.t0 < c.t0 || p.t1 > c.t1) ?? corners.find((c) => reachesPast(p, c));
      if (beyond === undefined) continue;
      const past = beyond.isCorner ? pastCorner(p, beyond) : Math.max(p.t1 - beyond.t1, beyond.t0 - p.t0);
      hits.push(
        hitAt(
          p,
          `the bond pad of "${p.pad.pin}" reaches ${um(past)} beyond the depth of cell "${beyond.name}" under it`,
          p.pad.pin,
        ),
      );
    }
  });
  return hits;
}

const doubled = eachCell((c) => {
  if (c.pads.length < 2) return undefined;
  const hits: Hit[] = [];
  const seen = new Map<number, PadView>();
  for (const p of c.pads) {
    const other = p.landing < 0 ? undefined : seen.get(p.landing);
    if (other !== undefined)
      hits.push(
        hitAt(
          p,
          `landing "${p.pad.landing}" of cell "${c.name}" has two bond pads`,
          other.pad.pin,
          p.pad.pin,
        ),
      );
    seen.set(p.landing, p);
  }
  return hits;
});

/** A cell's pins and its bond pads agree, landing by landing. */
const pins = joined(
  eachCell((c) => {
    const listed = c.cell.pins?.length ?? 0;
    const landings = c.kind?.landings.length ?? listed;
    if (listed <= landings) return undefined;
    return hitAt(c, `cell "${c.name}" lists ${listed} pins, but has ${landings} landings`, c.name);
  }),
  eachPad((p) => {
    if (p.landing < 0) return undefined;
    const asked = p.cell?.cell.pins?.[p.landing];
    if (asked === p.pad.pin) return undefined;
    const landing = `landing "${p.pad.landing}" of cell "${p.pad.cell}"`;
    return hitAt(
      p,
      `${landing} ${asked === undefined ? 'has no pin' : `is for pin "${asked}"`}, but its bond pad says "${p.pad.pin}"`,
      p.pad.pin,
    );
  }),
);

/** A pad that the cell contains is listed, and a cell that has any bond pad has one for each of its pins. */
const missing = eachCell((c) => {
  const listed = c.cell.pins;
  if (listed === undefined || c.kind === null) return undefined;
  if (listed.length === 1 && c.pads.length === 1 && c.pads[0]?.landing === 0) return undefined;
  const { landings } = c.kind;
  return listed.flatMap((pin, k) => {
    const place = landings[k];
    if (place === undefined || c.pads.some((p) => p.landing === k)) return [];
    if (place.inside === null && c.pads.length === 0) return [];
    const said = `pin "${pin}" of cell "${c.name}" has no bond pad at landing "${place.name}"`;
    return [hitAt(c, said, c.name, pin)];
  });
});

const unbonded = eachCell((c) => {
  if (c.cell.pins === undefined || c.pads.length > 0 || c.kind?.landings.some((l) => l.inside !== null))
    return undefined;
  return hitAt(c, `cell "${c.name}" has pins but no bond pad`, c.name);
});

const emptyDie = (view: View): readonly Hit[] =>
  view.pads.length > 0 ? [] : [hit('the ring has no bond pad at all', view.placement.ring)];

export const PAD_RULES: readonly Rule[] = [
  {
    name: 'pad-side',
    severity: 'error',
    protects: 'That a bond pad is listed with the side on which its cell stands.',
    mend: "List the bond pad on its cell's side.",
    run: side,
  },
  {
    name: 'pad-landing',
    severity: 'error',
    protects: 'That a bond pad joins its cell at the landing that it names.',
    mend: 'Move the bond pad to its landing, or record the shift.',
    run: landing,
  },
  {
    name: 'pad-in-cell',
    severity: 'error',
    protects: 'That a bond pad which its cell contains is the one that the library drew there.',
    mend: "Give the pad its footprint's size, and the side the style of its cells.",
    run: inCell,
  },
  {
    name: 'pad-row',
    severity: 'error',
    protects: 'That the bond pads of a row line up, at the place along the edge that the rules give the row.',
    mend: 'Move the pad to its row, or name the row that it stands in.',
    run: row,
  },
  {
    name: 'pad-depth',
    severity: 'error',
    protects: 'That a bond pad over circuit is carried over its whole depth by every cell under it.',
    mend: 'Reduce the rows, the inset or the pads, or take a deeper cell.',
    run: depth,
  },
  {
    name: 'pad-doubled',
    severity: 'error',
    protects: 'That one landing has one bond pad.',
    mend: 'Take one of the two out, or name another landing.',
    run: doubled,
  },
  {
    name: 'pad-pin',
    severity: 'error',
    protects: 'That the pin of a bond pad is the one of its landing in the cell that it names.',
    mend: 'Correct the pin of the bond pad, or the pins of the cell.',
    run: pins,
  },
  {
    name: 'pad-missing',
    severity: 'error',
    protects: 'That every pin of a bonded cell comes out at a bond pad.',
    mend: 'Add the bond pad, or take the pin out of the cell.',
    run: missing,
  },
  {
    name: 'pin-without-pad',
    severity: 'note',
    protects: 'That a pin is left without a bond pad on purpose only.',
    mend: 'Give the cell a bond pad, unless it shall have none.',
    run: unbonded,
  },
  {
    name: 'no-bond-pads',
    severity: 'warning',
    protects: 'That a ring can be bonded.',
    mend: 'Add the bond pads.',
    run: emptyDie,
  },
];
