/** A ring with its pins on sides: as the user bound them, or cut from an order. */
import { SIDES, type Side } from '../../geometry/side.ts';
import { found, type Outcome } from '../../problems/problem.ts';
import type { Order } from '../../spec/order.ts';
import type { Ring } from '../../spec/ring.ts';
import { cutOrder } from './cut.ts';

/**
 * The ring as it is where its pins are bound to sides, else cut so that its die is least. `stays` names sides that
 * pins are to keep from an older cut; where they cannot, the order is cut anew.
 */
export function intoSides(ring: Ring, stays: ReadonlyMap<string, Side> = new Map()): Outcome<Ring> {
  const { order } = ring;
  if (order === undefined) return found(ring);
  const kept = stays.size === 0 ? null : cutOrder(ring, keeping(order, stays));
  const cut = kept?.ok === true ? kept : cutOrder(ring, order);
  return cut.ok ? found(cut.value.ring, cut.notes) : cut;
}

/** The order with each pin that has a side to keep bound to it, where it may lie there. */
function keeping(order: Order, stays: ReadonlyMap<string, Side>): Order {
  const cells = order.cells.map((cell) => {
    const pins = SIDES.flatMap((side) => cell.on[side] ?? [])[0]?.pins ?? [];
    const side = pins.flatMap((pin) => stays.get(pin) ?? [])[0];
    const entry = side === undefined ? undefined : cell.on[side];
    return side === undefined || entry === undefined ? cell : { on: { [side]: entry } };
  });
  return { ...order, cells };
}
