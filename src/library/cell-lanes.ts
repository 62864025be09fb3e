/** A cell's lanes: its strips, and whether each goes on inside. */
import type { SomeStrips, StripEntry } from './cell-file.ts';
import type { FootprintLane, Strip } from './footprint.ts';

/** A strip before it is settled whether it goes on: `stub` where LEF draws only its two ends. */
export interface OpenStrip extends Omit<Strip, 'carry'> {
  readonly lane: string;
  readonly carry: Strip['carry'] | 'stub';
}

/** Strips as the cell file lists them for a lane, by layer. */
export const listedStrips = (
  lane: string,
  byLayer: Readonly<Record<string, readonly StripEntry[]>>,
): readonly OpenStrip[] =>
  Object.entries(byLayer).flatMap(([layer, strips]) =>
    strips.map((one) => {
      if (!('from' in one)) {
        const [from, to] = one;
        return { lane, layer, from, to, edges: 'both', carry: 'through' };
      }
      const { from, to, edges, carry } = one;
      return { lane, layer, from, to, edges, carry: carry ?? (edges === 'both' ? 'through' : 'cut') };
    }),
  );

export const isAmong = (strip: OpenStrip, some: SomeStrips): boolean =>
  typeof some === 'string'
    ? strip.lane === some
    : (some.lane === undefined || strip.lane === some.lane) &&
      (some.layer === undefined || strip.layer === some.layer);

export interface Settling {
  readonly cuts: readonly SomeStrips[];
  readonly joins: readonly SomeStrips[];
  /** What the library says of stubs; undefined where it says nothing. */
  readonly stubs: Strip['carry'] | undefined;
}

/**
 * The lanes with every strip settled. What the cell file says of a strip goes first. Else, where the cell draws any
 * strip from edge to edge, its drawing is literal, and stubs beside it are cut. Else what the library says of stubs
 * holds, and in the end they are taken as joined.
 */
export function settledLanes(
  strips: readonly OpenStrip[],
  { cuts, joins, stubs }: Settling,
  order: readonly string[],
): readonly FootprintLane[] {
  const literal = strips.some((strip) => strip.carry === 'through');
  const carryOf = (strip: OpenStrip): Strip['carry'] => {
    if (cuts.some((some) => isAmong(strip, some))) return 'cut';
    if (strip.edges === 'both' && joins.some((some) => isAmong(strip, some))) return 'through';
    if (strip.carry !== 'stub') return strip.carry;
    return literal ? 'cut' : (stubs ?? 'through');
  };
  return order.flatMap((lane) => {
    const own = strips.filter((strip) => strip.lane === lane);
    return own.length === 0
      ? []
      : [
          {
            lane,
            strips: own.map((strip) => ({
              layer: strip.layer,
              from: strip.from,
              to: strip.to,
              edges: strip.edges,
              carry: carryOf(strip),
            })),
          },
        ];
  });
}

/** Whether stubs of a cell were taken as joined because nothing says otherwise. */
export const assumesJoined = (strips: readonly OpenStrip[], { cuts, joins, stubs }: Settling): boolean =>
  stubs === undefined &&
  !strips.some((strip) => strip.carry === 'through') &&
  strips.some((strip) => strip.carry === 'stub' && ![...cuts, ...joins].some((some) => isAmong(strip, some)));
