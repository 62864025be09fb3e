/**
 * The ring's arithmetic once more, for the proofs: written from ring-model sections 2 to 4 alone, in whole micrometres,
 * sharing no code with the program. Only what the proofs draw is in here: equal pad depths, rows far enough
 * apart, cells that allow pads on top.
 */
/** Whole micrometres; halves where two widths are halved. */
export type Um = number;

export interface ModelFiller {
  readonly width: Um;
  readonly alone: boolean;
}

/** A cell with its bond pads' centres from its start edge, in order, and how wide they are along s. */
export interface ModelCell {
  readonly width: Um;
  readonly gap: Um;
  readonly at: Um | null;
  readonly pads: readonly { readonly offset: Um; readonly along: Um }[];
  readonly section: 'main' | 'other';
}

export interface ModelRules {
  readonly style: 'inline' | 'staggered' | 'over-circuit';
  readonly first: 'outer' | 'inner';
  readonly pitch: Um;
  readonly spacing: Um;
  readonly stem: { readonly width: Um; readonly spacing: Um };
  /** Edge allowance, pad depth, row gap and gap to the cells. */
  readonly edge: Um;
  readonly deep: Um;
  readonly rowGap: Um;
  readonly toCell: Um;
  readonly corner: { readonly width: Um; readonly depth: Um; readonly clearance: Um };
  readonly grades: readonly { readonly pads: number; readonly pitch: Um }[];
  readonly breakWidth: Um;
  readonly fillers: readonly ModelFiller[];
}

/** A rule between the start edges of two cells: the second stands at least so far after the first. */
export interface Apart {
  readonly from: number;
  readonly to: number;
  readonly least: Um;
}

/** A side's cells, break cells included, with all that they owe each other and the corners. */
export interface ModelSide {
  readonly cells: readonly ModelCell[];
  readonly apart: readonly Apart[];
  /** Least start edge of each cell, and least distance from it to the die corner ahead. */
  readonly low: readonly Um[];
  readonly tail: readonly Um[];
  readonly start: Um;
  readonly end: Um;
}

/** Where the cells' outward edge lies: a side has two rows at least where it has two pads. */
export function rowsEdge(rules: ModelRules): Um {
  if (rules.style === 'over-circuit') return rules.edge;
  const rows = rules.style === 'inline' ? rules.deep : 2 * rules.deep + rules.rowGap;
  return rules.edge + rows + rules.toCell;
}

/** A side of cells that are all bonded in the ring's one style, with every side's rows alike. */
export function modelSide(rules: ModelRules, cells: readonly ModelCell[]): ModelSide {
  const pads: { cell: number; offset: Um; along: Um; row: number; rank: number }[] = [];
  const counts = [0, 0];
  let turn = rules.first === 'outer' ? 0 : 1;
  cells.forEach((cell, i) => {
    for (const { offset, along } of cell.pads) {
      const row = rules.style === 'inline' ? 0 : turn;
      turn = 1 - turn;
      const rank = counts[row] ?? 0;
      counts[row] = rank + 1;
      pads.push({ cell: i, offset, along, row, rank });
    }
  });
  const apart: Apart[] = [];
  pads.forEach((a, i) => {
    for (const b of pads.slice(i + 1)) {
      let least = 0;
      if (a.row === b.row) {
        least = Math.max(rules.pitch, (a.along + b.along) / 2 + rules.spacing);
        const fromEnd = (counts[b.row] ?? 0) - 1 - b.rank;
        if (b.rank === a.rank + 1)
          for (const grade of rules.grades)
            if (Math.min(a.rank, fromEnd) < grade.pads) least = Math.max(least, grade.pitch);
      } else if (rules.style === 'staggered') {
        const inner = a.row === 1 ? a : b;
        least = inner.along / 2 + rules.stem.width / 2 + rules.stem.spacing;
      }
      apart.push({ from: a.cell, to: b.cell, least: least + a.offset - b.offset });
    }
  });
  const low = cells.map(() => 0);
  const edgeOf = rowsEdge(rules);
  const start = edgeOf + rules.corner.width;
  const end = edgeOf + rules.corner.depth;
  const tail = cells.map((cell) => cell.width + end);
  for (const { cell, offset, along } of pads) {
    const nearest = Math.max(rules.corner.clearance, rules.edge + along / 2);
    low[cell] = Math.max(low[cell] ?? 0, nearest - offset);
    tail[cell] = Math.max(tail[cell] ?? 0, nearest + offset);
  }
  return { cells, apart: apart.filter((rule) => rule.from !== rule.to), low, tail, start, end };
}

/** Pads of one cell that its own landings bring too near together, which no place can mend. */
export function selfConflict(rules: ModelRules, cells: readonly ModelCell[]): boolean {
  const spread = cells.map((cell, i) => cell.pads.map((pad, k) => ({ ...cell, key: i * 100 + k, pad })));
  const split = spread.flatMap((parts) =>
    parts.map(({ pad }): ModelCell => ({ width: 0, gap: 0, at: null, pads: [pad], section: 'main' })),
  );
  const owner = spread.flatMap((parts, i) => parts.map(() => i));
  return modelSide(rules, split).apart.some((rule) => owner[rule.from] === owner[rule.to] && rule.least > 0);
}

/** Cells of an order with a break cell before each one of another section than the one before, around the ring. */
export function withBreaks(
  rules: ModelRules,
  cells: readonly ModelCell[],
): readonly (readonly ModelCell[])[] {
  return cells.map((cell, i) => {
    const parting: ModelCell = { width: rules.breakWidth, gap: 0, at: null, pads: [], section: cell.section };
    return cell.section === cells.at(i - 1)?.section ? [cell] : [parting, cell];
  });
}

/** Whether fillers add up to a gap, an ordinary one among them unless it is empty. */
export function legalGaps(fillers: readonly ModelFiller[], most: Um): readonly boolean[] {
  const any = new Array<boolean>(most + 1).fill(false);
  const sound = new Array<boolean>(most + 1).fill(false);
  any[0] = true;
  for (let gap = 1; gap <= most; gap++)
    for (const { width, alone } of fillers) {
      if (gap < width) continue;
      if (any[gap - width]) any[gap] = true;
      if (alone ? any[gap - width] : sound[gap - width]) sound[gap] = true;
    }
  return sound.map((ok, gap) => ok || gap === 0);
}
