/**
 * Two laps of an order as cells of one side, in flat arrays: whatever a side between two cuts needs is a stretch of
 * them. What depends on where the cuts lie (rows, ranks from the corners, start and end) is not in here.
 */
import type { Side } from '../../geometry/side.ts';
import type { Plan, PlannedCell } from '../../plan/plan.ts';
import { found, type Outcome } from '../../problems/problem.ts';
import type { Ring, Style } from '../../spec/ring.ts';
import { fillerChoice } from '../problem.ts';
import { allowance, keepsBeside, type SidePad, type SideRows, sideRows } from '../rows.ts';
import { farthest, overhangs, padsInOrder, startsPacked } from '../rules.ts';

export interface Strand {
  readonly ring: Ring;
  readonly side: Side;
  readonly style: Style;
  readonly twoRows: boolean;
  /** Whether it matters how deep a side's bond pads are: to where its cells stand, or to how far rows are apart. */
  readonly rowsMatter: boolean;
  /** Cells in one lap; the arrays by cell have twice as many. */
  readonly count: number;
  readonly rows: SideRows;
  readonly width: Float64Array;
  readonly gap: Float64Array;
  /** The place where a cell is fixed, or NaN. */
  readonly fixed: Float64Array;
  /** Whether any is. */
  readonly holds: boolean;
  /** How deep a cell reaches from the row's outward edge. */
  readonly depth: Float64Array;
  /** Bounds of the start edge from the die corner behind, and of the die corner ahead from the start edge. */
  readonly low: Float64Array;
  readonly tail: Float64Array;
  /** The same from the ends of the corner cells where no pad may lie on these; -Infinity elsewhere. */
  readonly lowBeside: Float64Array;
  readonly tailBeside: Float64Array;
  /** Pads in order along s; those of cell c are the ones from `firstPad[c]` up to `firstPad[c + 1]`. */
  readonly pads: readonly SidePad[];
  readonly firstPad: Int32Array;
  readonly padCell: Int32Array;
  /** Deepness of each pad, and its row if the user chose one: 0 none, 1 outer, 2 inner. */
  readonly padDeep: Float64Array;
  readonly padRow: Uint8Array;
  /** Pads of each cell in the order of its landings, in which rows take turns. */
  readonly turn: Int32Array;
  /** Rules between cells that hold whatever the rows: by `to`, those from `firstRule[to]` on. */
  readonly firstRule: Int32Array;
  readonly ruleFrom: Int32Array;
  readonly ruleDistance: Float64Array;
  /** The pitch that the pads nearest a corner keep, by their rank from it; longer than any need where it ends. */
  readonly graded: Float64Array;
  /** No two centres are asked to be farther apart than this. */
  readonly farthest: number;
  /** The common step of the fillers; 0 where there is none. */
  readonly step: number;
  /** Whether every gap of whole steps is legal. */
  readonly dense: boolean;
}

/** The strand of a lap's cells on a side; a cell that the side's style does not allow is a problem. */
export function strandOf(ring: Ring, side: Side, lap: readonly PlannedCell[]): Outcome<Strand> {
  const cells = [...lap, ...lap];
  const outcome = sideRows(loneSide(ring, side, cells), side);
  if (!outcome.ok) return outcome;
  const rows = outcome.value;
  const pads = padsInOrder(rows);
  const n = cells.length;
  const firstPad = new Int32Array(n + 1);
  for (const pad of pads) firstPad[pad.cell + 1] = (firstPad[pad.cell + 1] ?? 0) + 1;
  for (let c = 0; c < n; c++) firstPad[c + 1] = (firstPad[c + 1] ?? 0) + (firstPad[c] ?? 0);
  const bounds = boundsOf(ring, rows, n);
  const ruled = ruleArrays(rows, pads, n);
  const { all, underPads } = fillerChoice(ring);
  const { style } = ring.sides[side];
  const twoRows = style === 'staggered' || (style === 'over-circuit' && ring.rows.overCircuit === 2);
  const rowsMatter = twoRows || style === 'inline';
  const sets = rows.over ? [all, underPads] : [all];
  const width = Float64Array.from(cells, (c) => c.footprint.width);
  return found({
    ring,
    side,
    style,
    twoRows,
    rowsMatter,
    count: lap.length,
    rows,
    width,
    gap: Float64Array.from(cells, (c) => c.entry?.gap ?? 0),
    fixed: Float64Array.from(cells, (c) => c.entry?.at ?? Number.NaN),
    holds: cells.some((c) => c.entry !== null && c.entry.at !== null),
    depth: Float64Array.from(cells, (c) => c.footprint.setback + c.footprint.depth),
    ...bounds,
    pads,
    firstPad,
    padCell: Int32Array.from(pads, (p) => p.cell),
    padDeep: Float64Array.from(pads, (p) => (rowsMatter ? p.deep : 0)),
    padRow: Uint8Array.from(pads, (p) => rowNumber(cells[p.cell]?.entry?.row ?? null)),
    turn: turnsOf(rows, pads),
    ...ruled,
    graded: gradesOf(ring, pads.length),
    farthest: farthest(ring, pads),
    step: all.step,
    dense: sets.every((s) => s.denseFrom === 0 && s.step === all.step),
  });
}

const rowNumber = (row: 'outer' | 'inner' | null): number => (row === null ? 0 : row === 'outer' ? 1 : 2);

/** A plan whose one side has these cells. */
export const loneSide = (ring: Ring, side: Side, cells: readonly PlannedCell[]): Plan => ({
  ring,
  sides: { left: [], bottom: [], right: [], top: [], [side]: cells },
  corners: { left: '', bottom: '', right: '', top: '' },
  entering: { left: '', bottom: '', right: '', top: '' },
});

/** The places in the sorted list of each cell's pads, in the order of its landings. */
function turnsOf(rows: SideRows, pads: readonly SidePad[]): Int32Array {
  const placeOf = new Map(pads.map((pad, i) => [pad, i]));
  return Int32Array.from(rows.pads, (pad) => placeOf.get(pad) ?? 0);
}

/** How near each cell may stand to the die corners for its pads' sake. */
function boundsOf(
  ring: Ring,
  rows: SideRows,
  n: number,
): Pick<Strand, 'low' | 'tail' | 'lowBeside' | 'tailBeside'> {
  const none = (): Float64Array => new Float64Array(n).fill(Number.NEGATIVE_INFINITY);
  const [low, tail, lowBeside, tailBeside] = [none(), none(), none(), none()];
  const raise = (list: Float64Array, cell: number, value: number): void => {
    list[cell] = Math.max(list[cell] ?? value, Math.ceil(value));
  };
  const seal = ring.edge.street + ring.edge.seal + ring.pads.openingToSeal.least;
  for (const pad of rows.pads) {
    const half = pad.along / 2;
    const nearest = Math.max(ring.corners.clearance, allowance(ring) + half, seal + pad.opening.along / 2);
    raise(low, pad.cell, Math.max(0, nearest - pad.offset));
    raise(tail, pad.cell, nearest + pad.offset);
    const beside = keepsBeside(ring, rows, pad.cell);
    if (beside.start) raise(lowBeside, pad.cell, half - pad.offset);
    if (beside.end) raise(tailBeside, pad.cell, half + pad.offset);
  }
  return { low, tail, lowBeside, tailBeside };
}

function ruleArrays(
  rows: SideRows,
  pads: readonly SidePad[],
  n: number,
): Pick<Strand, 'firstRule' | 'ruleFrom' | 'ruleDistance'> {
  const rules = rows.over ? [...overhangs(rows, pads, startsPacked(rows))] : [];
  rules.sort((a, b) => a[1] - b[1]);
  const firstRule = new Int32Array(n + 1);
  for (const [, to] of rules) firstRule[to + 1] = (firstRule[to + 1] ?? 0) + 1;
  for (let c = 0; c < n; c++) firstRule[c + 1] = (firstRule[c + 1] ?? 0) + (firstRule[c] ?? 0);
  return {
    firstRule,
    ruleFrom: Int32Array.from(rules, (r) => r[0]),
    ruleDistance: Float64Array.from(rules, (r) => r[2]),
  };
}

/** By rank from a corner, the pitch that its step asks for. */
function gradesOf(ring: Ring, most: number): Float64Array {
  const { pitches } = ring.corners;
  const length = Math.min(
    most,
    pitches.reduce((deep, step) => Math.max(deep, step.pads), 0),
  );
  return Float64Array.from({ length }, (_, rank) =>
    pitches.reduce((pitch, step) => (rank < step.pads ? Math.max(pitch, step.pitch) : pitch), 0),
  );
}
