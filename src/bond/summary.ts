/** The wires as a whole: what the summary tells, and how far they pull each cell toward its fingers. */
import type { Placement, WireSummary } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';
import { type StrungWire, stringWires } from './string.ts';
import { strung } from './wires.ts';

/** How far along the side, counter-clockwise, the finger of a wire lies from its start, as drawn. */
export interface Pull {
  readonly cell: string;
  readonly along: number;
}

export function pullsOf(placement: Placement): readonly Pull[] {
  const cellOf = new Map(placement.bondPads.map((pad) => [pad.number, pad.cell]));
  return stringWires(placement).map(({ bondPad, along }) => ({
    cell: cellOf.get(bondPad) ?? '',
    along: along / placement.rules.shrink,
  }));
}

/** A figure for people: to the nanometre, or the thousandth of a degree. */
const shown = (value: number): number => Math.round(value * 1000) / 1000 + 0;

/** The root mean square of how far a side's wires run aside. */
function aside(wires: readonly StrungWire[], side: Side): number {
  const own = wires.filter((wire) => wire.side === side);
  return Math.sqrt(own.reduce((sum, { along }) => sum + along * along, 0) / Math.max(1, own.length));
}

/** What went toward the fingers: the placement with the slack shared instead, and the sides without a proof. */
export interface Toward {
  readonly shared: Placement;
  readonly sides: readonly Side[];
  readonly unproven: readonly Side[];
}

/** The summary of a placement's wires; undefined where there is no package. */
export function wireSummary(placement: Placement, toward: Toward | null): WireSummary | undefined {
  if (placement.package === undefined) return undefined;
  const { wires, relations } = strung(placement);
  const most = (of: (wire: StrungWire) => number): number | null =>
    wires.length === 0 ? null : shown(wires.reduce((max, wire) => Math.max(max, of(wire)), 0));
  const before = toward === null ? [] : stringWires(toward.shared);
  return {
    count: wires.length,
    span: most((wire) => wire.span),
    length: most((wire) => wire.length),
    angle: most((wire) => wire.angle),
    crossings: relations.crossings.length,
    towardFingers: (toward?.sides ?? []).map((side) => ({
      side,
      shared: shown(aside(before, side)),
      placed: shown(aside(wires, side)),
      proven: toward?.unproven.includes(side) !== true,
    })),
  };
}
