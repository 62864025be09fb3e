/**
 * The cut of an order into sides as a mixed-integer program: a choice of four stretches that close the ring, the lengths
 * of opposite sides alike. What each stretch can be long is found by trying every legal gap (for rows whose pads owe a
 * distance to their neighbours only), or as the earliest placing where every gap of whole steps is legal.
 */
import { solveProgram } from '../figures/outside.ts';
import {
  legalGaps,
  type ModelCell,
  type ModelRules,
  type ModelSide,
  modelSide,
  selfConflict,
  type Um,
  withBreaks,
} from './model.ts';

export interface Order {
  readonly rules: ModelRules;
  readonly cells: readonly ModelCell[];
  /** By cell, the sides where it may lie (0 left, 1 bottom, 2 right, 3 top), and whether a corner may lie before it. */
  readonly mayLie: readonly (readonly number[])[];
  readonly cuttable: readonly boolean[];
}

export interface CutDie {
  readonly larger: Um;
  readonly smaller: Um;
}

/** The cells from i up to j, break cells included. */
function stretch({ rules, cells }: Order, i: number, j: number): readonly ModelCell[] {
  const broken = withBreaks(rules, cells);
  return Array.from({ length: j - i }, (_, k) => broken[(i + k) % cells.length] ?? []).flat();
}

/** The least length where gaps may be anything whole: no legal one is shorter. */
function relaxedLength(side: ModelSide): Um {
  const places: Um[] = [];
  let end = side.start;
  side.cells.forEach((cell, i) => {
    let need = Math.max(end + cell.gap, side.low[i] ?? 0);
    for (const rule of side.apart)
      if (rule.to === i) need = Math.max(need, (places[rule.from] ?? 0) + rule.least);
    const at = cell.at === null ? need : need <= cell.at ? cell.at : Number.POSITIVE_INFINITY;
    places.push(at);
    end = at + cell.width;
  });
  return Math.max(end + side.end, ...places.map((s, i) => s + (side.tail[i] ?? 0)));
}

/** All lengths up to one that a side fills, by trying every legal gap; the rules must be between neighbours. */
function everyLength(side: ModelSide, legal: readonly boolean[], beyond: number, most: Um): ReadonlySet<Um> {
  // A state: where the last cell with a pad starts, where the last cell ends, and what the tails ask for.
  let states: readonly (readonly [pad: Um, end: Um, reach: Um])[] = [[0, side.start, 0]];
  let padCell = -1;
  for (const [i, cell] of side.cells.entries()) {
    const next = new Map<number, readonly [Um, Um, Um]>();
    const rules = side.apart.filter((rule) => rule.to === i && rule.from === padCell);
    for (const [pad, end, reach] of states) {
      let need = Math.max(end + cell.gap, side.low[i] ?? 0);
      for (const rule of rules) need = Math.max(need, pad + rule.least);
      const last = cell.at ?? need + beyond;
      for (let at = Math.max(need, cell.at ?? need); at <= last; at++) {
        if (legal[at - end] !== true) continue;
        const asked = Math.max(reach, at + (side.tail[i] ?? 0));
        if (asked > most) break;
        const state = [cell.pads.length > 0 ? at : pad, at + cell.width, asked] as const;
        next.set((state[0] * SPAN + state[1]) * SPAN + asked, state);
      }
    }
    if (cell.pads.length > 0) padCell = i;
    states = [...next.values()];
  }
  const lengths = new Set<Um>();
  for (const [, end, reach] of states)
    for (let length = Math.max(reach, end + side.end); length <= most; length++)
      if (legal[length - end - side.end] === true) lengths.add(length);
  return lengths;
}

/** No length of a proof's side reaches this. */
const SPAN = 1 << 16;

const range = (from: number, to: number): readonly number[] =>
  Array.from({ length: to - from + 1 }, (_, k) => from + k);

/** From here on every gap is legal. */
function denseFrom(legal: readonly boolean[]): number {
  let from = legal.length - 1;
  while (from > 0 && legal[from - 1] === true) from--;
  return from;
}

interface Column {
  readonly k: number;
  readonly i: number;
  readonly j: number;
  readonly length: Um;
}

/** More than a stretch can get shorter by one more cell: its graded pitches then lie elsewhere. */
const LAX = 100;

/** The least larger extent, and the least smaller one with it; none larger than what is claimed is looked for. */
export function leastCut(order: Order, claimed: Um): CutDie | undefined {
  const { rules, cells, cuttable, mayLie } = order;
  const n = cells.length;
  const legal = legalGaps(rules.fillers, claimed);
  const beyond = denseFrom(legal);
  const relaxed = (i: number, j: number): Um => relaxedLength(modelSide(rules, stretch(order, i, j)));
  const bound = (side: number, i: number, j: number): boolean =>
    Array.from({ length: j - i }, (_, c) => mayLie[(i + c) % n] ?? []).every((sides) => sides.includes(side));
  // From each cell the farthest end of a stretch that may fit; no graded corner saves a longer one as much as LAX.
  const far = range(0, n - 1).map((i) => {
    let most = i;
    for (let j = i + 1; j <= i + n; j++) {
      const length = relaxed(i, j);
      if (length <= claimed) most = j;
      // A fixed cell that a graded corner bars may do where that corner lies further on.
      if (length > claimed + LAX && Number.isFinite(length)) break;
    }
    return most;
  });
  const farFrom = (i: number): number => (far[i % n] ?? 0) + i - (i % n);
  /** How far three more stretches reach from a cell. */
  const reached = range(0, n - 1).map((i) => {
    let end = farFrom(i);
    for (let k = 0; k < 2; k++) end = Math.max(...range(i, end).map(farFrom));
    return end;
  });
  const closes = (i: number, j: number): boolean => (reached[j % n] ?? 0) + j - (j % n) >= i + n;
  const columns: Column[] = [];
  const anySide = mayLie.every((sides) => sides.length === 4) && cells.every((cell) => cell.at === null);
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j <= (far[i] ?? i); j++) {
      if (cuttable[i] !== true || cuttable[j % n] !== true || !closes(i, j)) continue;
      const own = stretch(order, i, j);
      if (selfConflict(rules, own)) continue;
      const side = modelSide(rules, own);
      if (relaxedLength(side) > claimed) continue;
      const all = beyond === 0 ? [relaxedLength(side)] : everyLength(side, legal, beyond, claimed);
      const lengths = [...all].sort((a, b) => a - b);
      const basis = lengths.filter(
        (length) => !lengths.some((other) => other < length && legal[length - other] === true),
      );
      for (let k = 0; k < 4; k++) {
        // Where all sides are alike the left one may be the one of the first cell.
        if (k === 0 && anySide && i !== 0 && j <= n) continue;
        if (bound(k, i, j)) for (const length of basis) columns.push({ k, i, j, length });
      }
    }
  const larger = solveCut(order, columns, ['wide: W - M <= 0', 'high: H - M <= 0'], 'M', claimed);
  if (larger === undefined) return undefined;
  const sum = solveCut(order, columns, [`wide: W <= ${larger}`, `high: H <= ${larger}`], 'W + H', claimed);
  return sum === undefined ? undefined : { larger, smaller: sum - larger };
}

/** Stretches in a closed chain, opposite ones filled up to one length. */
function solveCut(
  { rules, cells }: Order,
  columns: readonly Column[],
  more: readonly string[],
  objective: string,
  claimed: Um,
): Um | undefined {
  const n = cells.length;
  const name = (index: number): string => `z${index}`;
  const lines: string[] = [...more];
  const sum = (pick: (column: Column) => number): string =>
    columns
      .flatMap((column, index) => (pick(column) === 0 ? [] : [` + ${pick(column)} ${name(index)}`]))
      .join('');
  for (let k = 0; k < 4; k++) {
    lines.push(`one${k}:${sum((c) => (c.k === k ? 1 : 0))} = 1`);
    const filled = rules.fillers.map((f, y) => ` + ${f.width} y${k}_${y}`).join('');
    lines.push(`len${k}:${sum((c) => (c.k === k ? c.length : 0))}${filled} - ${k % 2 === 0 ? 'H' : 'W'} = 0`);
    rules.fillers.forEach((filler, y) => {
      if (filler.alone) return;
      const others = rules.fillers.flatMap((other, o) => (other.alone ? [` - ${claimed} y${k}_${o}`] : []));
      lines.push(`nc${k}_${y}: y${k}_${y}${others.join('')} <= 0`);
    });
    for (let p = 0; p < n; p++) {
      const ends = columns.flatMap((c, index) => (c.k === k && c.j % n === p ? [` + ${name(index)}`] : []));
      const begins = columns.flatMap((c, index) =>
        c.k === (k + 1) % 4 && c.i === p ? [` - ${name(index)}`] : [],
      );
      if (ends.length + begins.length > 0) lines.push(`flow${k}_${p}:${[...ends, ...begins].join('')} = 0`);
    }
  }
  // Four stretches that follow each other could go round twice.
  lines.push(`lap:${sum((c) => c.j - c.i)} = ${n}`);
  const whole = [0, 1, 2, 3].flatMap((k) => rules.fillers.map((_, y) => `y${k}_${y}`));
  const solved = solveProgram(
    [
      'Minimize',
      ` obj: ${objective}`,
      'Subject To',
      ...lines.map((line) => ` ${line}`),
      'Bounds',
      ` 0 <= W <= ${claimed}`,
      ` 0 <= H <= ${claimed}`,
      'Generals',
      ` ${whole.join(' ')}`,
      'Binaries',
      ` ${columns.map((_, index) => name(index)).join(' ')}`,
      'End',
      '',
    ].join('\n'),
  );
  return solved === undefined ? undefined : Math.round(solved.objective);
}
