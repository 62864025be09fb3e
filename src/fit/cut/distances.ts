/** What depends on how deep a side's rows are: the distances between its pads, and which depths there can be. */
import { across, padAcross, type RowDepths, type SidePad } from '../rows.ts';
import { padDistance, type Ranked, startsPacked } from '../rules.ts';
import type { Strand } from './strand.ts';

/** The distances between pads of a strand, with rows as deep as a side between two cuts has them. */
export interface Distances {
  /** The pads before pad b that owe it a distance: from `first[b]` up to `first[b + 1]`, nearest last. */
  readonly first: Int32Array;
  readonly from: Int32Array;
  /** Distance of the cells' start edges: both outer (or one row), both inner, then outer first, inner first. */
  readonly least: Float64Array;
  /** From centre distance to distance of start edges. */
  readonly shift: Float64Array;
}

const FAR_RANK = 1e6;

export function distancesOf(strand: Strand, depths: RowDepths): Distances {
  const { ring, style, pads, twoRows } = strand;
  const where = across(ring, style, depths);
  const lap = pads.length / 2;
  const inRow = (pad: SidePad, row: SidePad['row'], rank: number): Ranked => {
    const setback = strand.rows.cells[pad.cell]?.footprint.setback ?? where.t0;
    const { cell, landing, pin, net, offset, landingOffset, along, deep, opening } = pad;
    const { t, stem } = padAcross(style, where, { landing, deep, row }, setback);
    return {
      cell,
      landing,
      pin,
      net,
      offset,
      landingOffset,
      along,
      deep,
      opening,
      row,
      t,
      stem,
      fromStart: rank,
      fromEnd: rank,
    };
  };
  const rowNames: readonly SidePad['row'][] = twoRows ? ['outer', 'inner'] : ['single'];
  const once = pads.slice(0, lap);
  const earlier = rowNames.map((row) => once.map((pad) => inRow(pad, row, FAR_RANK)));
  const later = rowNames.map((row) => once.map((pad) => inRow(pad, row, 3 * FAR_RANK)));
  const lists = pairs(strand);
  const first = new Int32Array(pads.length + 1);
  lists.forEach((list, b) => {
    first[b + 1] = (first[b] ?? 0) + list.length;
  });
  const from = Int32Array.from(lists.flat());
  const least = new Float64Array(4 * from.length);
  const shift = new Float64Array(from.length);
  const combos: readonly (readonly [number, number])[] = twoRows
    ? [
        [0, 0],
        [1, 1],
        [0, 1],
        [1, 0],
      ]
    : [[0, 0]];
  // The second lap has every pair; a pad of the first one has the pairs of its second self as far as they reach back.
  for (let b = lap; b < pads.length; b++) {
    const [start, end] = [first[b] ?? 0, first[b + 1] ?? 0];
    for (let k = start; k < end; k++) {
      const a = from[k] ?? 0;
      const moved = (pads[a]?.offset ?? 0) - (pads[b]?.offset ?? 0);
      shift[k] = moved;
      for (const [combo, [ra, rb]] of combos.entries()) {
        const [x, y] = [earlier[ra]?.[a % lap], later[rb]?.[b - lap]];
        if (x !== undefined && y !== undefined)
          least[4 * k + combo] = padDistance(ring, x, y).distance + moved;
      }
    }
    const [to, own] = [first[b - lap + 1] ?? 0, (first[b - lap + 1] ?? 0) - (first[b - lap] ?? 0)];
    shift.copyWithin(to - own, end - own, end);
    least.copyWithin(4 * (to - own), 4 * (end - own), 4 * end);
  }
  return { first, from, least, shift };
}

/** For each pad those before it that it may have to keep a distance to, the nearest last. */
function pairs({ pads, count, rows, farthest: reach }: Strand): readonly (readonly number[])[] {
  const starts = startsPacked(rows);
  const lists: number[][] = pads.map(() => []);
  pads.forEach((a, i) => {
    for (let j = i + 1; j < pads.length; j++) {
      const b = pads[j];
      if (b === undefined || b.cell >= a.cell + count) break;
      const apart = (starts[b.cell] ?? 0) - (starts[a.cell] ?? 0) - a.offset + b.offset;
      if (b.cell !== a.cell && apart >= reach) break;
      lists[j]?.push(i);
    }
  });
  return lists;
}

/** Depths of rows that sides between two cuts can have, and the most cells of a side that has them. */
export interface Depths extends RowDepths {
  readonly most: number;
}

/** Every combination of depths that some stretch of the lap makes, the deepest first. */
export function depthsOf(strand: Strand): readonly Depths[] {
  const { count, firstPad, padDeep, padRow, turn, twoRows } = strand;
  if (!strand.rowsMatter) return [{ outer: 0, inner: 0, padded: true, most: count }];
  const deepest = padDeep.reduce((deep, d) => Math.max(deep, d), 0);
  const found = new Map<string, Depths>();
  const note = (outer: number, inner: number, padded: boolean, cells: number): void => {
    const key = `${outer} ${inner} ${padded}`;
    if ((found.get(key)?.most ?? -1) < cells) found.set(key, { outer, inner, padded, most: cells });
  };
  for (let i = 0; i < count; i++) {
    let next = strand.ring.rows.first === 'outer' ? 0 : 1;
    let [outer, inner, padded] = [0, 0, false];
    for (let c = i; c < i + count; c++) {
      const [from, to] = [firstPad[c] ?? 0, firstPad[c + 1] ?? 0];
      const before: [number, number, boolean] = [outer, inner, padded];
      for (let k = from; k < to; k++) {
        const pad = turn[k] ?? 0;
        const chosen = padRow[pad] ?? 0;
        const row = !twoRows ? 0 : chosen === 0 ? next : chosen - 1;
        next = 1 - row;
        padded = true;
        if (row === 0) outer = Math.max(outer, padDeep[pad] ?? 0);
        else inner = Math.max(inner, padDeep[pad] ?? 0);
      }
      if (outer !== before[0] || inner !== before[1] || padded !== before[2]) note(...before, c - i);
      if (outer === deepest && (!twoRows || inner === deepest)) break;
    }
    note(outer, inner, padded, count);
  }
  return [...found.values()].sort((a, b) => b.outer + b.inner - a.outer - a.inner || b.outer - a.outer);
}
