/** Each cell by itself: what it is, how large, how it is turned, where its drawing's origin lies. */

import { whole } from '../exact.ts';
import type { Rule } from '../finding.ts';
import { hitAt, names, um } from '../say.ts';
import { isVertical, sideName } from '../turn.ts';
import type { CellView } from '../view.ts';
import { eachCell } from './each.ts';

const role = eachCell((c) => {
  if (c.kind !== null && c.cell.role !== c.kind.footprint.role)
    return hitAt(
      c,
      `cell "${c.name}" is listed as ${c.cell.role}, but ${c.cell.footprint} is a ${c.role}`,
      c.name,
    );
  if (c.isCorner !== (c.role === 'corner'))
    return hitAt(
      c,
      c.isCorner
        ? `cell "${c.name}" belongs to no side, which only a corner cell may`
        : `corner cell "${c.name}" is said to belong to the ${sideName(c.side)} side`,
      c.name,
    );
  return undefined;
});

const section = eachCell((c) => {
  if ((c.cell.section === null) === (c.role === 'break')) return undefined;
  return hitAt(
    c,
    c.role === 'break'
      ? `break cell "${c.name}" names section "${c.cell.section}", but parts two`
      : `cell "${c.name}" names no section`,
    c.name,
  );
});

const size = eachCell((c) => {
  if (c.pose === null) return undefined;
  const [width, height] = [c.x1 - c.x0, c.y1 - c.y0];
  if (width === c.pose.width && height === c.pose.height) return undefined;
  const asked = `${um(c.pose.width)} by ${um(c.pose.height)}`;
  return hitAt(
    c,
    `cell "${c.name}" is ${um(width)} by ${um(height)}, but ${c.cell.footprint} turned by ${c.cell.rotation} is ${asked}`,
    c.name,
  );
});

const turn = eachCell((c) => {
  if (c.pose === null || c.pose.faces === c.side) return undefined;
  const where = c.isCorner ? 'the corner after the ' : 'the ';
  return hitAt(
    c,
    `cell "${c.name}", turned by ${c.cell.rotation}${c.cell.mirrored ? ' and mirrored' : ''}, belongs to ${where}${sideName(c.pose.faces)} side and not to ${where}${sideName(c.side)} one`,
    c.name,
  );
});

/** A turn that is not allowed is the footprint's matter: its cells are told together, for all turn alike on a side. */
const turnAllowed: Rule['run'] = ({ cells }) => {
  const wrong = new Map<string, CellView[]>();
  for (const c of cells) {
    if (c.kind === null) continue;
    const { plain, mirrored } = c.kind.footprint.turns;
    if ((c.cell.mirrored ? mirrored : plain).includes(c.cell.rotation)) continue;
    const key = JSON.stringify([c.cell.footprint, c.cell.rotation, c.cell.mirrored]);
    const alike = wrong.get(key);
    if (alike === undefined) wrong.set(key, [c]);
    else alike.push(c);
  }
  return [...wrong.values()].flatMap((alike) => {
    const [first] = alike;
    if (first === undefined) return [];
    const { footprint, rotation, mirrored } = first.cell;
    const which = alike.length === 1 ? `cell "${first.name}" is` : `${alike.length} cells are`;
    const list = alike.length === 1 ? '' : `: ${names(alike.map((c) => c.name))}`;
    return [
      hitAt(
        first,
        `${footprint} may not be turned by ${rotation}${mirrored ? ' once mirrored' : ''}, as ${which}${list}`,
        footprint,
      ),
    ];
  });
};

const origin = eachCell((c) => {
  if (c.pose === null) return undefined;
  const x = c.x0 - c.pose.lowX;
  const y = c.y0 - c.pose.lowY;
  if (whole(c.cell.origin.x) === x && whole(c.cell.origin.y) === y) return undefined;
  return hitAt(
    c,
    `the origin of cell "${c.name}" is given as (${c.cell.origin.x}, ${c.cell.origin.y}); its place and turn make it (${x / 1e6}, ${y / 1e6})`,
    c.name,
  );
});

const variant = eachCell((c) => {
  const standIn = c.kind?.footprint.onVertical ?? null;
  if (standIn === null || c.isCorner || !isVertical(c.side) || standIn === c.cell.footprint) return undefined;
  return hitAt(
    c,
    `cell "${c.name}" on the ${sideName(c.side)} side is of ${c.cell.footprint}, for which ${standIn} stands on the vertical sides`,
    c.name,
  );
});

export const CELL_RULES: readonly Rule[] = [
  {
    name: 'cell-role',
    severity: 'error',
    protects:
      "That a cell's role is its footprint's, and that corner cells and no others stand at the corners.",
    mend: 'Give the cell the role of its footprint, and a side unless it is a corner cell.',
    run: role,
  },
  {
    name: 'cell-section',
    severity: 'error',
    protects: 'That every cell belongs to a section, and a break cell to none.',
    mend: "Name the cell's section; give break cells null.",
    run: section,
  },
  {
    name: 'cell-size',
    severity: 'error',
    protects: 'That the outline is that of the library cell as it is turned.',
    mend: "Set width and height to the footprint's, exchanged where it is turned by 90 or 270.",
    run: size,
  },
  {
    name: 'cell-turn',
    severity: 'error',
    protects: "That a cell's outward edge, from where the bond wire comes, faces the edge of the die.",
    mend: 'Turn the cell so that its outward edge lies at the side that it belongs to.',
    run: turn,
  },
  {
    name: 'turn-not-allowed',
    severity: 'error',
    protects: 'That a cell is turned and mirrored only as its library allows.',
    mend: "Use an allowed turn, or the library's variant for that side.",
    run: turnAllowed,
  },
  {
    name: 'cell-origin',
    severity: 'error',
    protects: "That a script which places the library's drawing at its origin fills this very outline.",
    mend: 'Compute the origin anew: mirror, then turn, then move the drawing onto the outline.',
    run: origin,
  },
  {
    name: 'cell-variant',
    severity: 'error',
    protects: 'That the vertical sides have the footprints that the library holds for them.',
    mend: 'Replace the cell by the footprint that its onVertical names.',
    run: variant,
  },
];
