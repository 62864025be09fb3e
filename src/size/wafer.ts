/**
 * Whole dies on a wafer. Dies stand edge to edge in rows and columns, each with its share of the sawing street; a die
 * counts where all of it lies within the usable radius, the wafer's less the edge exclusion.
 */

/** Usual wafers, by their diameter in millimetres. */
export const WAFERS = [150, 200, 300] as const;

/** What is not used at a wafer's edge, in millimetres, unless said otherwise. Common practice, no source. */
export const EXCLUSION = 3;

/** How finely the grid is moved across, in millimetres; along the other axis every offset is looked at. */
const OFFSET_STEP = 0.0001;

/** Intervals of offsets that are looked at before the best count so far has to do; a guard, no wafer needs as many. */
const MOST_INTERVALS = 20_000;

/**
 * The most whole dies on a wafer, the grid's offset varied. Lengths in millimetres; the die's are on silicon, street
 * included.
 *
 * With the columns' offset fixed, a column whose half chord is h holds floor((h - y) / height) + floor((h + y) / height)
 * dies for a grid line at y; as y moves, each count changes at h modulo height and at its mirror image only, so that
 * sorting these remainders gives the best y at once. Offsets of the columns are halved, with every chord of an interval
 * taken at its longest, until no interval can hold more than the best offset found.
 */
export function wholeDies(diameter: number, exclusion: number, width: number, height: number): number {
  const radius = diameter / 2 - exclusion;
  if (!(radius > 0) || width * width + height * height > 4 * radius * radius) return 0;
  // Few columns of many dies cost less than many of few.
  const [across, along] = width >= height ? [width, height] : [height, width];
  const half = Math.ceil(across / 2 / OFFSET_STEP);
  const at = (from: number, to: number): number =>
    countWithin(radius, across, along, from * OFFSET_STEP, to * OFFSET_STEP);
  let best = Math.max(at(0, 0), countWithin(radius, across, along, across / 2, across / 2));
  let open: (readonly [from: number, to: number, most: number])[] = [[0, half, at(0, half)]];
  for (let seen = 0; open.length > 0 && seen < MOST_INTERVALS; ) {
    const next: (readonly [number, number, number])[] = [];
    for (const [from, to, most] of open) {
      if (most <= best) continue;
      const middle = Math.floor((from + to) / 2);
      best = Math.max(best, at(middle, middle));
      for (const [a, b] of [
        [from, middle],
        [middle + 1, to],
      ] as const) {
        if (a > b) continue;
        seen++;
        const bound = at(a, b);
        if (a === b) best = Math.max(best, bound);
        else if (bound > best) next.push([a, b, bound]);
      }
    }
    open = next;
  }
  return best;
}

/** The most dies that columns can hold whose first edge lies anywhere from `from` to `to`, each at its best there. */
function countWithin(radius: number, width: number, height: number, from: number, to: number): number {
  const first = -Math.ceil((radius + to) / width) - 1;
  const last = Math.ceil((radius - from) / width) + 1;
  const remainders: number[] = [];
  let whole = 0;
  for (let i = first; i <= last; i++) {
    const nearest = farthestEdge(from + i * width, to + i * width, width);
    if (nearest >= radius) continue;
    const chord = Math.sqrt(radius * radius - nearest * nearest) / height;
    // A die that touches the circle lies within it: what rounding takes from an exact touch is given back.
    const dies = Math.floor(chord + 1e-12);
    whole += dies;
    remainders.push(Math.max(0, chord - dies));
  }
  remainders.sort((a, b) => a - b);
  return 2 * whole + bestShift(remainders);
}

/** The least distance of a column's farther edge from the centre, its first edge anywhere in an interval. */
function farthestEdge(from: number, to: number, width: number): number {
  if (from <= -width / 2 && to >= -width / 2) return width / 2;
  return to < -width / 2 ? -to : from + width;
}

/**
 * The most that a shift y adds to the whole dies of all columns: each column gains one where its remainder r reaches
 * 1 - y and loses one where y exceeds r. The sum is greatest at some y = 1 - r, or at 0.
 */
function bestShift(sorted: readonly number[]): number {
  let best = 0;
  let below = 0;
  for (let i = sorted.length - 1; i >= 0; i--) {
    const y = 1 - (sorted[i] ?? 0);
    while (below < sorted.length && (sorted[below] ?? 0) < y - 1e-12) below++;
    best = Math.max(best, sorted.length - i - below);
  }
  return best;
}

/**
 * The estimate of Hennessy and Patterson, Computer Architecture, fifth edition, chapter 1: dies per wafer from the
 * wafer's area over the die's, less its circumference over the die's diagonal. Lengths in one unit; S is the die's area.
 */
export const estimatedDies = (diameter: number, area: number): number =>
  Math.max(0, (Math.PI * (diameter / 2) ** 2) / area - (Math.PI * diameter) / Math.sqrt(2 * area));
