/**
 * The least length of a side between any two cuts. From each cut one run places the cells as early as the rules let
 * them, on the fillers' common step; where a side ends matters only to its last pads (a wider pitch near the corner
 * ahead), so each end places just these again. No legal placing is shorter; where all gaps of whole steps are legal
 * the least length is just this.
 */
import type { RowDepths } from '../rows.ts';
import { type Distances, distancesOf } from './distances.ts';
import type { Strand } from './strand.ts';

/** What a run is made for: the strand, its rows' depths, and where the corner cells of the side begin and end. */
export interface Setting {
  readonly strand: Strand;
  readonly depths: RowDepths;
  /** Where the corner cell at the start ends, and how far before the die corner the one at the end starts. */
  readonly start: number;
  readonly end: number;
}

export interface Runs {
  readonly setting: Setting;
  /**
   * The least length of the die's side with the cells from i up to j (i below the lap's count, j at most a lap
   * later); Infinity where they cannot stand on one side, or make rows of other depths.
   */
  readonly least: (i: number, j: number) => number;
  /** The last j for which the cells from i up to j may fit a length; no later one does. */
  readonly farthest: (i: number, length: number) => number;
}

/** Cells placed from one cut on. */
interface Run {
  /** How many cells are placed, and whether a further one cannot be. */
  placed: number;
  blocked: boolean;
  /** From how many cells on the rows are as deep as the setting says; -1 where they are not yet. */
  valid: number;
  at: Float64Array;
  /** The length that the cells so far ask for. */
  need: Float64Array;
  /** By pad, from the first of the run: its row (0 outer or only, 1 inner) and its rank in that row. */
  row: Uint8Array;
  rank: Int32Array;
  /** Pads of the outer (or only) row before each cell. */
  outerBefore: Int32Array;
  /** The least length by number of cells; NaN where it is not yet known. */
  least: Float64Array;
  next: number;
  outerDeep: number;
  innerDeep: number;
}

/** Runs of a setting, each made when it is asked for and as far as it is asked for; the pads' distances with the first. */
export function runsOf(
  setting: Setting,
  distances: () => Distances = () => distancesOf(setting.strand, setting.depths),
): Runs {
  const { strand, depths, start, end } = setting;
  const { count, width, gap, fixed, low, tail, lowBeside, tailBeside, firstPad, padCell, step } = strand;
  const { firstRule, ruleFrom, ruleDistance, graded, twoRows, padRow, padDeep, turn } = strand;
  const grades = graded.length;
  const anything = depths.padded || !strand.rowsMatter;
  const firstRow = strand.ring.rows.first === 'outer' ? 0 : 1;
  const runs: (Run | undefined)[] = new Array(count).fill(undefined);
  const scratch = new Float64Array(2 * count);
  const totals = new Int32Array(2);
  let { first, from, least, shift }: Distances = {
    first: totals,
    from: totals,
    least: scratch,
    shift: scratch,
  };

  // Most runs end near a quarter of the lap.
  const block = 16 + Math.ceil(count / 3);
  const newRun = (): Run => {
    // One buffer a run: there are as many runs as cells, and buffers are dear.
    const floats = new Float64Array(Math.ceil(4.125 * block) + 2);
    const { buffer } = floats;
    const ints = 8 * (3 * block + 1);
    return {
      placed: 0,
      blocked: false,
      valid: depths.padded && strand.rowsMatter ? -1 : 0,
      at: floats.subarray(0, block),
      need: floats.subarray(block, 2 * block),
      least: floats.subarray(2 * block, 3 * block + 1).fill(Number.NaN),
      rank: new Int32Array(buffer, ints, block),
      outerBefore: new Int32Array(buffer, ints + 4 * block, block + 1),
      row: new Uint8Array(buffer, ints + 8 * block + 4, block),
      next: firstRow,
      outerDeep: 0,
      innerDeep: 0,
    };
  };

  /** The earliest place of cell c of the run from i; NaN where it has none. Cells from `redo` on lie in scratch. */
  const place = (run: Run, i: number, c: number, redo: number): number => {
    const placeOf = (cell: number): number => (cell >= redo ? scratch[cell] : run.at[cell - i]) ?? 0;
    const before = c === i ? start : placeOf(c - 1) + (width[c - 1] ?? 0);
    let need = before + (gap[c] ?? 0);
    need = Math.max(need, low[c] ?? need, start + (lowBeside[c] ?? 0));
    for (let k = firstRule[c] ?? 0; k < (firstRule[c + 1] ?? 0); k++) {
      const cell = ruleFrom[k] ?? 0;
      if (cell >= i && cell < c) need = Math.max(need, placeOf(cell) + (ruleDistance[k] ?? 0));
    }
    const base = firstPad[i] ?? 0;
    for (let b = firstPad[c] ?? 0; b < (firstPad[c + 1] ?? 0); b++) {
      const row = run.row[b - base] ?? 0;
      const next = run.rank[b - base] ?? 0;
      for (let k = (first[b + 1] ?? 0) - 1; k >= (first[b] ?? 0); k--) {
        const a = from[k] ?? 0;
        if (a < base) break;
        const cell = padCell[a] ?? 0;
        const rowA = run.row[a - base] ?? 0;
        let distance = least[4 * k + (rowA === row ? row : 2 + rowA)] ?? 0;
        const rank = run.rank[a - base] ?? 0;
        if (grades > 0 && rowA === row && next === rank + 1) {
          const ahead = redo > c ? grades : (totals[row] ?? 0) - 1 - next;
          const grade = Math.min(rank, ahead);
          if (grade < grades) distance = Math.max(distance, (graded[grade] ?? 0) + (shift[k] ?? 0));
        }
        if (cell < c) need = Math.max(need, placeOf(cell) + distance);
        else if (distance > 0) return Number.NaN;
      }
    }
    const held = fixed[c] ?? Number.NaN;
    if (!Number.isNaN(held)) {
      const whole = step === 0 ? held === before : (held - before) % step === 0;
      return held < need || !whole ? Number.NaN : held;
    }
    if (need <= before) return before;
    return step === 0 ? Number.NaN : before + Math.ceil((need - before) / step) * step;
  };

  /** The length that a cell at a place asks for. */
  const reach = (c: number, at: number): number =>
    at + Math.max((width[c] ?? 0) + end, tail[c] ?? 0, end + (tailBeside[c] ?? 0));

  const room = (run: Run, cells: number, pads: number): void => {
    if (cells >= run.at.length) {
      const size = 2 * run.at.length;
      run.at = grown(run.at, new Float64Array(size));
      run.need = grown(run.need, new Float64Array(size));
      run.outerBefore = grown(run.outerBefore, new Int32Array(size + 1));
      run.least = grown(run.least, new Float64Array(size + 1).fill(Number.NaN));
    }
    while (pads > run.row.length) {
      run.row = grown(run.row, new Uint8Array(2 * run.row.length));
      run.rank = grown(run.rank, new Int32Array(2 * run.rank.length));
    }
  };

  /** Gives the pads of a cell their rows and ranks; false where the rows get deeper than the setting has them. */
  const rowsOfCell = (run: Run, i: number, c: number): boolean => {
    const base = firstPad[i] ?? 0;
    const [low0, high] = [firstPad[c] ?? 0, firstPad[c + 1] ?? 0];
    for (let k = low0; k < high; k++) {
      const pad = turn[k] ?? 0;
      let row = 0;
      if (twoRows) {
        const chosen = padRow[pad] ?? 0;
        row = chosen === 0 ? run.next : chosen - 1;
        run.next = 1 - row;
      }
      run.row[pad - base] = row;
      const deep = padDeep[pad] ?? 0;
      if (row === 0) run.outerDeep = Math.max(run.outerDeep, deep);
      else run.innerDeep = Math.max(run.innerDeep, deep);
    }
    let outer = run.outerBefore[c - i] ?? 0;
    for (let pad = low0; pad < high; pad++)
      run.rank[pad - base] = run.row[pad - base] === 0 ? outer++ : pad - base - outer;
    run.outerBefore[c - i + 1] = outer;
    return run.outerDeep <= depths.outer && run.innerDeep <= depths.inner && (anything || high === base);
  };

  const extend = (run: Run, i: number, cells: number, length: number): void => {
    while (run.placed < cells && !run.blocked) {
      const k = run.placed;
      if (k > 0 && (run.need[k - 1] ?? 0) > length) return;
      const c = i + k;
      room(run, k + 1, (firstPad[c + 1] ?? 0) - (firstPad[i] ?? 0));
      if (!rowsOfCell(run, i, c)) {
        run.blocked = true;
        return;
      }
      const at = place(run, i, c, 2 * count);
      if (Number.isNaN(at)) {
        run.blocked = true;
        return;
      }
      run.at[k] = at;
      run.need[k] = Math.max(k === 0 ? 0 : (run.need[k - 1] ?? 0), reach(c, at));
      run.placed = k + 1;
      if (run.valid < 0 && run.outerDeep === depths.outer && run.innerDeep === depths.inner)
        run.valid = k + 1;
    }
  };

  const runFrom = (i: number): Run => {
    const known = runs[i];
    if (known !== undefined) return known;
    if (first === totals) ({ first, from, least, shift } = distances());
    const run = newRun();
    runs[i] = run;
    return run;
  };

  /** The first cell whose pads are near enough to the corner after cell j - 1 to keep a wider pitch. */
  const firstGraded = (run: Run, i: number, j: number): number => {
    const base = firstPad[i] ?? 0;
    const outer = run.outerBefore[j - i] ?? 0;
    totals[0] = outer;
    totals[1] = (firstPad[j] ?? 0) - base - outer;
    let cell = j;
    for (let pad = (firstPad[j] ?? 0) - 1, open = 3; pad >= base && open > 0; pad--) {
      const row = run.row[pad - base] ?? 0;
      const rank = run.rank[pad - base] ?? 0;
      if ((totals[row] ?? 0) - 1 - rank < grades && rank > 0) cell = padCell[pad] ?? cell;
      for (let r = 0; r < 2; r++) {
        const seen = r === row ? (totals[r] ?? 0) - rank : 0;
        if ((totals[r] ?? 0) === 0 || seen >= Math.min(grades, totals[r] ?? 0)) open &= ~(1 << r);
      }
    }
    return cell;
  };

  const leastWithEnd = (run: Run, i: number, j: number): number => {
    const redo = grades === 0 ? j : firstGraded(run, i, j);
    let need = redo > i ? (run.need[redo - i - 1] ?? 0) : 0;
    let last = redo > i ? (run.at[redo - i - 1] ?? 0) : 0;
    for (let c = redo; c < j; c++) {
      last = place(run, i, c, redo);
      if (Number.isNaN(last)) return Number.POSITIVE_INFINITY;
      scratch[c] = last;
      need = Math.max(need, reach(c, last));
    }
    const packed = last + (width[j - 1] ?? 0) + end;
    if (need <= packed) return packed;
    return step === 0 ? Number.POSITIVE_INFINITY : packed + Math.ceil((need - packed) / step) * step;
  };

  const leastOf = (i: number, j: number): number => {
    if (j === i) return depths.padded && strand.rowsMatter ? Number.POSITIVE_INFINITY : start + end;
    const run = runFrom(i);
    const cells = j - i;
    extend(run, i, cells, Number.POSITIVE_INFINITY);
    if (run.placed < cells || run.valid < 0 || cells < run.valid) return Number.POSITIVE_INFINITY;
    const known = run.least[cells] ?? Number.NaN;
    if (!Number.isNaN(known)) return known;
    const length = leastWithEnd(run, i, j);
    run.least[cells] = length;
    return length;
  };

  const farthest = (i: number, length: number): number => {
    const run = runFrom(i);
    extend(run, i, count, length);
    let [low0, high] = [0, run.placed];
    while (low0 < high) {
      const middle = (low0 + high + 1) >> 1;
      if ((run.need[middle - 1] ?? 0) <= length) low0 = middle;
      else high = middle - 1;
    }
    return i + low0;
  };

  return { setting, least: leastOf, farthest };
}

function grown<T extends { set(from: T): void }>(from: T, into: T): T {
  into.set(from);
  return into;
}
