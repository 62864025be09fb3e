/** Corruptions of cells. */
import {
  along,
  breaks,
  cellsOn,
  corners,
  drop,
  fillers,
  footprintOf,
  hasNeighbours,
  inward,
  moveCell,
  type Operator,
  operator,
  padsOf,
  type Side,
  sideCells,
} from './operator.ts';

const SIDES: readonly Side[] = ['left', 'bottom', 'right', 'top'];

export const CELL_OPERATORS: readonly Operator[] = [
  operator('a cell shifted along its side by one grid step', 'abutment', (p, dice) => {
    const cell = dice.of(sideCells(p));
    if (cell?.side == null) return false;
    const { side } = cell;
    const by = p.units.grid * (dice.below(2) === 0 ? 1 : -1);
    moveCell(cell, (shape) => along(side, shape, by));
    return true;
  }),
  operator('a cell shifted onto its neighbour', 'cell-overlap', (p, dice) => {
    const cell = dice.of(sideCells(p));
    if (cell?.side == null) return false;
    const { side } = cell;
    moveCell(cell, (shape) => along(side, shape, p.units.grid));
    return true;
  }),
  operator('a cell shifted inward by one grid step', 'cell-alignment', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.side !== null));
    if (cell?.side == null) return false;
    const { side } = cell;
    moveCell(cell, (shape) => inward(side, shape, p.units.grid));
    return true;
  }),
  operator('all cells of a side shifted inward by one grid step', 'row-place', (p, dice) => {
    const side = dice.of(SIDES) ?? 'left';
    for (const cell of cellsOn(p, side)) moveCell(cell, (shape) => inward(side, shape, p.units.grid));
  }),
  operator('a filler gone', 'abutment', (p, dice) => {
    const cell = dice.of(fillers(p));
    if (cell === undefined) return false;
    drop(p.cells, cell);
    return true;
  }),
  operator('a cell gone', 'abutment', (p, dice) => {
    const cell = dice.of(sideCells(p));
    if (cell === undefined) return false;
    drop(p.cells, cell);
    return true;
  }),
  operator('a corner cell gone', 'corner-count', (p, dice) => {
    const cell = dice.of(corners(p));
    if (cell === undefined) return false;
    drop(p.cells, cell);
    return true;
  }),
  operator('a break cell gone', 'break-missing', (p, dice) => {
    const cell = dice.of(breaks(p));
    if (cell === undefined) return false;
    drop(p.cells, cell);
    return true;
  }),
  operator('a filler doubled', 'cell-overlap', (p, dice) => {
    const cell = dice.of(fillers(p));
    if (cell === undefined) return false;
    p.cells.push({ ...structuredClone(cell), name: `${cell.name}-again` });
    return true;
  }),
  operator('a corner cell doubled', 'corner-count', (p, dice) => {
    const cell = dice.of(corners(p));
    if (cell === undefined) return false;
    p.cells.push({ ...structuredClone(cell), name: `${cell.name}-again` });
    return true;
  }),
  operator('a cell doubled under its own name', 'duplicate-name', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    p.cells.push(structuredClone(cell));
    return true;
  }),
  operator('a cell doubled a thousand times', 'crowded', (p, dice) => {
    const cell = dice.of(fillers(p));
    if (cell === undefined) return false;
    for (let k = 0; k < 1000; k++) p.cells.push({ ...cell, name: `${cell.name}-${k}` });
    return true;
  }),
  operator('a cell under the name of another', 'duplicate-name', (p, dice) => {
    const [a, b] = [dice.of(p.cells), dice.of(p.cells)];
    if (a === undefined || b === undefined || a === b) return false;
    a.name = b.name;
    return true;
  }),
  operator('a cell turned by 90', 'cell-turn', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell.rotation = ([90, 180, 270, 0] as const)[cell.rotation / 90] ?? 0;
    return true;
  }),
  operator('a cell turned by 180', 'cell-turn', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell.rotation = ([180, 270, 0, 90] as const)[cell.rotation / 90] ?? 0;
    return true;
  }),
  operator('a corner cell mirrored', 'cell-turn', (p, dice) => {
    const cell = dice.of(corners(p));
    if (cell === undefined) return false;
    cell.mirrored = !cell.mirrored;
    return true;
  }),
  operator('a cell mirrored, its origin left', 'cell-origin', (p, dice) => {
    const cell = dice.of(sideCells(p));
    if (cell === undefined) return false;
    cell.mirrored = !cell.mirrored;
    return true;
  }),
  operator('a cell mirrored about its axis, its pad left', 'pad-landing', (p, dice) => {
    const cell = dice.of(
      sideCells(p).filter((c) => footprintOf(p, c)?.name.startsWith('skew') && padsOf(p, c).length > 0),
    );
    if (cell === undefined) return false;
    cell.mirrored = !cell.mirrored;
    return true;
  }),
  operator('the origin of a cell moved by one grid step', 'cell-origin', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    if (dice.below(2) === 0) cell.origin.x += p.units.grid;
    else cell.origin.y -= p.units.grid;
    return true;
  }),
  operator('a cell made wider', 'cell-size', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell.width += p.units.grid;
    return true;
  }),
  operator('a cell made less deep', 'cell-size', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    if (cell.width < cell.height) cell.height -= p.units.grid;
    else cell.width -= p.units.grid;
    return true;
  }),
  operator('a cell of a footprint of another size', 'cell-size', (p, dice) => {
    const cell = dice.of(fillers(p));
    const other = dice.of(p.footprints.filter((f) => f.role === 'filler' && f.name !== cell?.footprint));
    if (cell === undefined || other === undefined) return false;
    cell.footprint = other.name;
    return true;
  }),
  operator('a cell of a footprint that is not listed', 'unknown-name', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell.footprint = 'nowhere';
    return true;
  }),
  operator('a cell in the role of another', 'cell-role', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.role !== 'break'));
    if (cell === undefined) return false;
    cell.role = 'break';
    return true;
  }),
  operator('a corner cell that claims a side', 'cell-role', (p, dice) => {
    const cell = dice.of(corners(p));
    if (cell === undefined) return false;
    cell.side = dice.of(SIDES) ?? 'left';
    return true;
  }),
  operator('a cell that claims no side', 'cell-role', (p, dice) => {
    const cell = dice.of(sideCells(p));
    if (cell === undefined) return false;
    cell.side = null;
    return true;
  }),
  operator('a cell that claims another side', 'cell-turn', (p, dice) => {
    const cell = dice.of(sideCells(p));
    if (cell?.side == null) return false;
    cell.side = SIDES[(SIDES.indexOf(cell.side) + 1 + dice.below(3)) % 4] ?? 'left';
    return true;
  }),
  operator('a cell in no section', 'cell-section', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.role !== 'break'));
    if (cell === undefined) return false;
    cell.section = null;
    return true;
  }),
  operator('a break cell in a section', 'cell-section', (p, dice) => {
    const cell = dice.of(breaks(p));
    if (cell === undefined) return false;
    cell.section = p.sections[0]?.name ?? null;
    return true;
  }),
  operator('a cell in a section that is not listed', 'unknown-name', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.section !== null));
    if (cell === undefined) return false;
    cell.section = 'nowhere';
    return true;
  }),
  operator('a cell in another section', 'break-missing', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.section !== null && hasNeighbours(p, c)));
    const own = p.sections.find((s) => s.name === cell?.section);
    const other = dice.of(
      p.sections.filter((s) => Object.entries(s.lanes).some(([lane, net]) => own?.lanes[lane] !== net)),
    );
    if (cell === undefined || other === undefined) return false;
    cell.section = other.name;
    return true;
  }),
  operator('two neighbours of different width exchanged', 'abutment', (p, dice) => {
    const i = dice.below(p.cells.length - 1);
    const [a, b] = [p.cells[i], p.cells[i + 1]];
    if (a === undefined || b === undefined || a.side === null || a.side !== b.side) return false;
    if (a.width === b.width && a.height === b.height) return false;
    [a.x, b.x] = [b.x, a.x];
    [a.y, b.y] = [b.y, a.y];
    return true;
  }),
  operator('the names of two cells exchanged', 'pad-pin', (p, dice) => {
    const a = dice.of(p.cells.filter((c) => padsOf(p, c).length > 0));
    const b = dice.of(p.cells.filter((c) => c.footprint === a?.footprint && c.pins?.[0] !== a?.pins?.[0]));
    if (a === undefined || b === undefined) return false;
    [a.name, b.name] = [b.name, a.name];
    return true;
  }),
  operator('a cell far outside the die', 'outside-die', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell.x += 1e6;
    return true;
  }),
  operator('a cell moved into the edge allowance', 'edge-allowance', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.side !== null));
    if (cell?.side == null) return false;
    const { side } = cell;
    const { street, seal, clearance } = p.rules.edge;
    const room =
      side === 'left'
        ? cell.x
        : side === 'bottom'
          ? cell.y
          : side === 'right'
            ? p.die.width - cell.x - cell.width
            : p.die.height - cell.y - cell.height;
    const by = room - (street + seal + clearance) + p.units.grid;
    moveCell(cell, (shape) => inward(side, shape, -by));
    return true;
  }),
  operator('a cell off the grid', 'off-grid', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell.x += p.units.grid / 5;
    return true;
  }),
  operator('a cell at no whole number of picometres', 'inexact-length', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell.y += 1e-8;
    return true;
  }),
  operator('a corner cell moved by one grid step', 'corner-place', (p, dice) => {
    const cell = dice.of(corners(p));
    if (cell === undefined) return false;
    const key = dice.below(2) === 0 ? 'x' : 'y';
    cell[key] += p.units.grid;
    cell.origin[key] += p.units.grid;
    return true;
  }),
  operator('a vertical side with a cell of the horizontal ones', 'cell-variant', (p, dice) => {
    const standIns = new Map(p.footprints.map((f) => [f.onVertical, f.name]));
    const cell = dice.of(
      p.cells.filter((c) => (c.side === 'left' || c.side === 'right') && standIns.has(c.footprint)),
    );
    if (cell === undefined) return false;
    cell.footprint = standIns.get(cell.footprint) ?? '';
    return true;
  }),
  operator('a break cell replaced by a filler of its width', 'break-missing', (p, dice) => {
    const cell = dice.of(breaks(p));
    if (cell === undefined || !p.footprints.some((f) => f.name === 'fill_6')) return false;
    cell.footprint = 'fill_6';
    cell.role = 'filler';
    cell.section = p.cells.at(p.cells.indexOf(cell) - 1)?.section ?? null;
    if (cell.section === null) return false;
    return true;
  }),
  operator('a break cell replaced by one that lets more through', 'break-short', (p, dice) => {
    const cell = dice.of(breaks(p).filter((c) => c.footprint === 'part_all'));
    if (cell === undefined || !p.footprints.some((f) => f.name === 'part_core')) return false;
    cell.footprint = 'part_core';
    return true;
  }),
  operator('a break cell in the middle of a section', 'break-needless', (p, dice) => {
    const cell = dice.of(
      fillers(p).filter((c) => {
        const i = p.cells.indexOf(c);
        const [before, after] = [p.cells[i - 1], p.cells[i + 1]];
        return c.footprint === 'fill_6' && before?.section === after?.section && before?.section != null;
      }),
    );
    if (cell === undefined) return false;
    cell.footprint = 'part_all';
    cell.role = 'break';
    cell.section = null;
    return true;
  }),
  operator('a cell that holds its own output', 'tied-signal', (p, dice) => {
    const kinds = new Set(
      p.footprints.filter((f) => f.signals?.some((s) => s.direction === 'output')).map((f) => f.name),
    );
    const cell = dice.of(p.cells.filter((c) => kinds.has(c.footprint)));
    const f = cell && footprintOf(p, cell);
    const output = f?.signals?.find((s) => s.direction === 'output');
    if (cell === undefined || output === undefined) return false;
    cell.tied = { [output.name]: 0 };
    return true;
  }),
  operator('a cell that holds a signal it does not have', 'tied-signal', (p, dice) => {
    const cell = dice.of(sideCells(p));
    if (cell === undefined) return false;
    cell.tied = { nothing: 1 };
    return true;
  }),
  operator('a cell with a pin too many', 'pad-pin', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.pins !== undefined));
    if (cell?.pins === undefined) return false;
    cell.pins.push('EXTRA');
    return true;
  }),
];
