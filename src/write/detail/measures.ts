/** What is dimensioned in a tight stretch: exact distances between edges or centres that are really there. */
import type { Placement } from '../../format/placement.ts';
import { neighbours, type SeenPad, type SeenStem, type TightStretch } from './stretch.ts';

/** A distance along s, set off below the die's edge or above the cells, or along t, set off at the right. */
export interface Measure {
  readonly name: string;
  readonly along: 's' | 't';
  readonly from: number;
  readonly to: number;
  /** Where the two extension lines begin, on the other axis. */
  readonly begin: readonly [number, number];
  readonly place: 'below' | 'above' | 'right' | 'far right';
  /** What it may not fall below, where a rule says so. */
  readonly least?: number;
}

type Draft = Omit<Measure, 'along'>;

/** In the order in which they are set off, nearest first. */
export function measuresOf(placement: Placement, stretch: TightStretch): readonly Measure[] {
  const along = [...padMeasures(placement, stretch), ...cellMeasures(placement, stretch)].map((draft) => ({
    ...draft,
    along: 's' as const,
  }));
  const inward = [...rowMeasures(placement, stretch), ...edgeMeasures(placement, stretch)].map((draft) => ({
    ...draft,
    begin: [Math.min(draft.begin[0], stretch.s1), Math.min(draft.begin[1], stretch.s1)] as const,
    along: 't' as const,
  }));
  return [...along, ...inward].filter(({ from, to }) => to - from > 1e-7);
}

const least = <T>(items: readonly T[], value: (item: T) => number): T | undefined =>
  items.reduce<T | undefined>(
    (best, item) => (best === undefined || value(item) < value(best) ? item : best),
    undefined,
  );

function padMeasures({ rules }: Placement, { pads, pair }: TightStretch): Draft[] {
  const drafts: Draft[] = [];
  const spacing = pair ?? least(neighbours(pads), ([a, b]) => b.s0 - a.s1);
  if (spacing) {
    const [a, b] = spacing;
    drafts.push({
      name: 'spacing',
      from: a.s1,
      to: b.s0,
      begin: [a.t0, b.t0],
      place: 'below',
      least: rules.pads.spacing,
    });
  }
  const widest = pair?.[0] ?? pads[0];
  if (widest) {
    const { s0, s1, t0, opening } = widest;
    drafts.push({
      name: 'opening',
      from: opening.s0,
      to: opening.s1,
      begin: [opening.t0, opening.t0],
      place: 'below',
    });
    drafts.push({ name: 'pad', from: s0, to: s1, begin: [t0, t0], place: 'below' });
  }
  const stagger = least(
    pads.flatMap((pad, i): (readonly [SeenPad, SeenPad])[] => {
      const next = pads[i + 1];
      return next && next.pad.row !== pad.pad.row ? [[pad, next]] : [];
    }),
    ([a, b]) => b.s - a.s,
  );
  if (stagger) {
    const [a, b] = stagger;
    drafts.push({ name: 'stagger', from: a.s, to: b.s, begin: [a.t0, b.t0], place: 'below' });
  }
  if (pair) {
    const [a, b] = pair;
    drafts.push({
      name: 'pitch',
      from: a.s,
      to: b.s,
      begin: [a.t0, b.t0],
      place: 'below',
      least: rules.pads.pitch,
    });
  }
  return drafts;
}

/** The stems that are seen whole, nearest the middle first. */
function whole({ stems, s0, s1 }: TightStretch): readonly SeenStem[] {
  const away = (stem: SeenStem) => Math.abs(stem.s0 + stem.s1 - s0 - s1);
  return stems.filter((stem) => stem.s0 >= s0 && stem.s1 <= s1).sort((a, b) => away(a) - away(b));
}

/** The closest stem to a pad that is not its own and that it passes. */
function stemClearance(
  stretch: TightStretch,
): { stem: SeenStem; pad: SeenPad; from: number; to: number } | undefined {
  const passed = whole(stretch).flatMap((stem) =>
    stretch.pads
      .filter(({ pad, t0, t1 }) => pad.number !== stem.stem.bondPad && stem.t0 < t1 && t0 < stem.t1)
      .map((pad) =>
        pad.s >= (stem.s0 + stem.s1) / 2
          ? { stem, pad, from: stem.s1, to: pad.s0 }
          : { stem, pad, from: pad.s1, to: stem.s0 },
      ),
  );
  return least(passed, ({ from, to }) => to - from);
}

function cellMeasures({ rules }: Placement, stretch: TightStretch): Draft[] {
  const drafts: Draft[] = [];
  const clearance = stemClearance(stretch);
  const stem = clearance?.stem ?? whole(stretch)[0];
  if (clearance) {
    const { from, to, pad } = clearance;
    drafts.push({
      name: 'stem clearance',
      from,
      to,
      begin: [pad.t1, pad.t1],
      place: 'above',
      least: rules.stems.spacing,
    });
  }
  if (stem)
    drafts.push({ name: 'stem', from: stem.s0, to: stem.s1, begin: [stem.t1, stem.t1], place: 'above' });
  const owner = stretch.pair?.[0] ?? stretch.pads[0];
  const cell = stretch.cells.find((one) => one.cell.name === owner?.pad.cell);
  if (cell && cell.s0 >= stretch.s0 && cell.s1 <= stretch.s1)
    drafts.push({
      name: 'cell',
      from: cell.s0,
      to: cell.s1,
      begin: [stretch.t1, stretch.t1],
      place: 'above',
    });
  return drafts;
}

/** The chain from the die's edge inward through the last pad of each row to its cell. */
function rowMeasures({ rules }: Placement, stretch: TightStretch): Draft[] {
  const outer = stretch.pads.findLast(({ pad }) => pad.row !== 'inner');
  const inner = stretch.pads.findLast(({ pad }) => pad.row === 'inner');
  const rows = [outer, inner].filter((pad) => pad !== undefined);
  const last = inner ?? outer;
  if (last === undefined) return [];
  const cell = stretch.cells.find((one) => one.cell.name === last.pad.cell);
  const drafts: Draft[] = [];
  const link = (name: string, from: number, to: number, begin: readonly [number, number], limit?: number) =>
    drafts.push({ name, from, to, begin, place: 'right', ...(limit === undefined ? {} : { least: limit }) });
  let [at, s] = [0, stretch.s1];
  const outside = stretch.style === 'inline' || stretch.style === 'staggered';
  if (!outside && cell) {
    link('edge to cells', at, cell.t0, [s, cell.s1]);
    [at, s] = [cell.t0, cell.s1];
  }
  rows.forEach((pad, i) => {
    if (i > 0) link('row gap', at, pad.t0, [s, pad.s1], rules.rows.gap);
    else if (outside) link('edge to pad', at, pad.t0, [s, pad.s1]);
    else link('cell edge to pad', at, pad.t0, [s, pad.s1]);
    link(rows.length === 1 ? 'pad' : `${pad.pad.row} pad`, pad.t0, pad.t1, [pad.s1, pad.s1]);
    [at, s] = [pad.t1, pad.s1];
  });
  if (outside && cell) link('pad to cell', at, cell.t0, [s, cell.s1], rules.pads.toCell);
  return drafts;
}

/** The edge allowance, and how far the opening stands from the seal ring's inner edge. */
function edgeMeasures({ rules }: Placement, stretch: TightStretch): Draft[] {
  const { street, seal } = rules.edge;
  const pad = stretch.pads.findLast((one) => one.pad.row !== 'inner');
  const begin: readonly [number, number] = [stretch.s1, stretch.s1];
  const drafts: Draft[] = [
    { name: 'street', from: 0, to: street, begin, place: 'far right' },
    { name: 'seal ring', from: street, to: street + seal, begin, place: 'far right' },
  ];
  if (pad)
    drafts.push({
      name: 'seal to opening',
      from: street + seal,
      to: pad.opening.t0,
      begin: [stretch.s1, pad.opening.s1],
      place: 'far right',
      least: rules.pads.openingToSeal.least,
    });
  return drafts;
}
