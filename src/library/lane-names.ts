/**
 * Which lane a drawn strip belongs to. A pin's name tells the net that one cell puts on the strip; the lane is the place
 * itself, layer and extent, which all cells share. Where a cell has another pin there than the fillers, or than most
 * cells if no filler has a strip there, it carries one lane's net on another's strips: it ties the two.
 */
import type { DrawnStrip } from './drawing.ts';

export interface LaneStrip extends DrawnStrip {
  /** The lane whose place it is. */
  readonly lane: string;
  /** The lane that its pin is named for. */
  readonly own: string;
}

export interface DrawnCell {
  readonly name: string;
  readonly filler: boolean;
  readonly strips: readonly DrawnStrip[];
}

const placeOf = (strip: DrawnStrip): string => `${strip.from} ${strip.to} ${strip.layer}`;

/**
 * The strips of each cell with their lanes.
 * @param laneOfPin the lane that a pin is named for; undefined where it is none
 */
export function laneStrips(
  cells: readonly DrawnCell[],
  laneOfPin: (pin: string) => string | undefined,
): ReadonlyMap<string, readonly LaneStrip[]> {
  const votes = new Map<string, Map<string, { fillers: number; cells: number }>>();
  for (const cell of cells)
    for (const strip of cell.strips) {
      const own = laneOfPin(strip.pin);
      if (own === undefined) continue;
      const place = placeOf(strip);
      const here = votes.get(place) ?? new Map<string, { fillers: number; cells: number }>();
      const vote = here.get(own) ?? { fillers: 0, cells: 0 };
      here.set(own, { fillers: vote.fillers + (cell.filler ? 1 : 0), cells: vote.cells + 1 });
      votes.set(place, here);
    }
  const laneAt = (strip: DrawnStrip, own: string): string => {
    const here = votes.get(placeOf(strip));
    let [lane, best] = [own, here?.get(own) ?? { fillers: 0, cells: 0 }];
    for (const [name, vote] of here ?? [])
      if (vote.fillers > best.fillers || (vote.fillers === best.fillers && vote.cells > best.cells))
        [lane, best] = [name, vote];
    return lane;
  };
  return new Map(
    cells.map((cell) => [
      cell.name,
      cell.strips.flatMap((strip) => {
        const own = laneOfPin(strip.pin);
        return own === undefined ? [] : [{ ...strip, own, lane: laneAt(strip, own) }];
      }),
    ]),
  );
}

/** The pairs of lanes that a cell ties by carrying one's net on the other's strips, each with such a strip. */
export function tiesSeen(strips: readonly LaneStrip[]): readonly LaneStrip[] {
  const seen = new Map<string, LaneStrip>();
  for (const strip of strips) {
    const pair = JSON.stringify([strip.lane, strip.own]);
    if (strip.lane !== strip.own && !seen.has(pair)) seen.set(pair, strip);
  }
  return [...seen.values()];
}
