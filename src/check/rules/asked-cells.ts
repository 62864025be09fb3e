/** The cells as they were asked for, one after the other along each side, against those that stand there. */
import type { AskedCell } from '../../format/placement.ts';
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { few, hit, hitAt, um } from '../say.ts';
import { highS, SIDE_NAMES, sideName } from '../turn.ts';
import type { CellView, View } from '../view.ts';
import { isOf } from './listed-pins.ts';

/** A cell that stands where one was asked for. */
type Pair = readonly [asked: AskedCell, cell: CellView];

interface Side {
  /** Undefined where the side does not hold what was asked for in its order. */
  readonly pairs: readonly Pair[] | undefined;
  readonly hit: Hit | undefined;
}

/** What the program sets by itself. */
const isListed = ({ role }: CellView): boolean => role !== 'filler' && role !== 'break' && role !== 'corner';

/** Whether a cell can be the one that was asked for: of its pins, or where it has none, of its footprint. */
function isMeant(view: View, asked: AskedCell, one: CellView): boolean {
  const { cell } = one;
  const count = asked.pins?.length ?? 0;
  if (count !== (cell.pins?.length ?? 0)) return false;
  for (let k = 0; k < count; k++) if (asked.pins?.[k] !== cell.pins?.[k]) return false;
  return count > 0 || isOf(view, one, asked.footprint);
}

const nameOfAsked = ({ pins, footprint }: AskedCell): string =>
  pins === undefined ? `a ${footprint}` : `pin ${pins.map((pin) => `"${pin}"`).join(' and ')}`;

/** Each side, cell by cell. */
const sidesAsked = once((view): readonly Side[] => {
  const { asked } = view.placement;
  if (asked === undefined) return [];
  const bySide: AskedCell[][] = [[], [], [], []];
  for (const cell of asked) bySide[SIDE_NAMES.indexOf(cell.side)]?.push(cell);
  return bySide.map((wanted, side): Side => {
    const pairs: Pair[] = [];
    let next = 0;
    const hitOf = (cell: CellView | undefined, what: AskedCell | undefined): Hit => {
      const asks = what === undefined ? 'nothing more was asked for' : `${nameOfAsked(what)} was asked for`;
      const items = [sideName(side), ...(what?.pins ?? (what === undefined ? [] : [what.footprint]))];
      return cell === undefined
        ? hit(`on the ${sideName(side)} side ${asks}, where no further cell stands`, ...items)
        : hitAt(
            cell,
            `on the ${sideName(side)} side ${asks}, where cell "${cell.name}" stands`,
            ...items,
            cell.name,
          );
    };
    for (const cell of view.rows[side] ?? []) {
      if (!isListed(cell)) continue;
      const what = wanted[next++];
      if (what === undefined || !isMeant(view, what, cell))
        return { pairs: undefined, hit: hitOf(cell, what) };
      pairs.push([what, cell]);
    }
    const what = wanted[next];
    return what === undefined ? { pairs, hit: undefined } : { pairs: undefined, hit: hitOf(undefined, what) };
  });
});

const order = (view: View): readonly Hit[] => sidesAsked(view).flatMap((side) => side.hit ?? []);

/** Cells are of the footprint, and stand in the section, that they were asked for in. */
function sections(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const { pairs } of sidesAsked(view))
    for (const [asked, cell] of pairs ?? []) {
      if (asked.section !== cell.cell.section)
        hits.push(hitAt(cell, `cell "${cell.name}" was asked for in section "${asked.section}"`, cell.name));
      if (!isOf(view, cell, asked.footprint))
        hits.push(
          hitAt(
            cell,
            `cell "${cell.name}" is a ${cell.cell.footprint}; a ${asked.footprint} was asked for`,
            cell.name,
          ),
        );
    }
  return hits;
}

/** Whether an entry, or a bond pad of its cell, says anything of a place. */
const isPlaced = ([{ at, gap, row, shift }, { pads }]: Pair): boolean =>
  at !== undefined ||
  gap !== undefined ||
  row !== undefined ||
  shift !== undefined ||
  pads.some((p) => p.shift !== 0);

/** Where along the side a cell was to stand, how far behind the one before, and where its bond pads. */
function places(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  sidesAsked(view).forEach(({ pairs }, side) => {
    if (pairs?.some(isPlaced) !== true) return;
    const asks = new Map(pairs.map(([asked, cell]) => [cell, asked]));
    const corner = view.corners[(side + 3) & 3]?.[0];
    let end = corner === undefined ? 0 : highS(side, view.die, corner);
    for (const cell of view.rows[side] ?? []) {
      const asked = asks.get(cell);
      const wrong = asked === undefined ? [] : misplaced(asked, cell, end);
      if (wrong.length > 0)
        hits.push(hitAt(cell, `cell "${cell.name}" was asked for ${few(wrong)}`, cell.name));
      if (cell.role !== 'filler') end = cell.s1;
    }
  });
  return hits;
}

/** What is not as an entry has it; `end`: where the cell before ends, fillers apart. */
function misplaced(
  { at, gap, row, shift }: AskedCell,
  { s0, pads }: CellView,
  end: number,
): readonly string[] {
  const wrong: string[] = [];
  if (at !== undefined && s0 !== whole(at))
    wrong.push(`at ${at} um from the die corner, and stands at ${um(s0)}`);
  if (gap !== undefined && s0 - end < whole(gap))
    wrong.push(`${gap} um behind the cell before it, and stands ${um(s0 - end)} behind it`);
  const other = pads.find(({ pad }) => pad.row !== 'single' && pad.row !== row)?.pad.row;
  if (row !== undefined && other !== undefined)
    wrong.push(`with its bond pad in the ${row} row, and has it in the ${other} one`);
  const shifted = pads.find((p) => p.shift !== whole(shift ?? 0));
  if (shifted !== undefined)
    wrong.push(`with its bond pad shifted by ${shift ?? 0} um, and has it shifted by ${um(shifted.shift)}`);
  return wrong;
}

type Tied = AskedCell['tied'];

/** Inputs toward the core that are held, as one text. */
const heldText = (tied: Tied): string =>
  Object.entries(tied ?? {})
    .map(([name, value]) => `${name} at ${value}`)
    .sort()
    .join(', ');

function held(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const { pairs } of sidesAsked(view))
    for (const [asked, cell] of pairs ?? []) {
      if (asked.tied === undefined && cell.cell.tied === undefined) continue;
      const [wanted, given] = [heldText(asked.tied), heldText(cell.cell.tied)];
      if (wanted !== given)
        hits.push(
          hitAt(
            cell,
            `cell "${cell.name}" holds ${given || 'no input'}; it was asked to hold ${wanted || 'none'}`,
            cell.name,
          ),
        );
    }
  return hits;
}

export const ASKED_CELL_RULES: readonly Rule[] = [
  {
    name: 'cell-order',
    severity: 'error',
    protects: 'That the cells of a side are those that were asked for, in their order.',
    mend: 'Place the cells as asked lists them; where the list itself changed, change asked and pins.',
    run: order,
  },
  {
    name: 'cell-asked',
    severity: 'error',
    protects: 'That a cell is what was asked for, and in the section that it was asked for in.',
    mend: 'Place the footprint, and put the cell into the section, that asked names.',
    run: sections,
  },
  {
    name: 'cell-place',
    severity: 'error',
    protects:
      'That a cell stands where it was fixed, behind the gap and with its pads in the row that it was to have.',
    mend: 'Move the cell to the place that asked names.',
    run: places,
  },
  {
    name: 'held-otherwise',
    severity: 'error',
    protects: 'That an input toward the core is held at the constant that was asked for.',
    mend: 'Hold what asked names, and nothing else.',
    run: held,
  },
];
