/** Names of the marked pins around a die, each as near as can be to its pad; where they do not all fit, the weightier. */
import { SIDES, type Side } from '../../geometry/side.ts';
import { add, group, lettering, type Pen, write } from '../canvas.ts';
import { lengthOf } from '../frame.ts';
import { mm } from '../numbers.ts';
import { INK } from '../palette.ts';
import { spread } from '../spread.ts';
import { clean, LEAST_SIZE, LINE_BOX, shorten } from '../text.ts';
import { LOOKS, type Marked } from './looks.ts';
import { BAND, onSheet, type View } from './plan.ts';

const LINE = LEAST_SIZE * LINE_BOX + 0.1;
/** From the die's edge to the names, for the leaders to fan out. */
const FAN = 5;
const SIGN = { added: '+ ', removed: '\u00d7 ', moved: '', changed: '', renumbered: '' } as const;

/** Draws the names; returns how many did not fit. */
export function drawNames(page: Pen, view: View, marked: readonly Marked[]): number {
  const pen = group(page, { class: 'names' });
  const leaders = group(pen, { class: 'leaders', fill: 'none', stroke: INK.hair, 'stroke-width': 0.13 });
  let left = 0;
  for (const side of SIDES) left += drawSide(pen, leaders, view, side, marked);
  return left;
}

function drawSide(pen: Pen, leaders: Pen, view: View, side: Side, marked: readonly Marked[]): number {
  const { die } = view.placement;
  const length = lengthOf(side, die) * view.scale;
  const all = marked.filter(({ pin }) => pin.place.side === side);
  const kept = all.slice(0, Math.floor(length / LINE));
  const row = kept.sort((a, b) => a.pin.place.s - b.pin.place.s);
  const wishes = row.map(({ pin }) => ({ at: pin.place.s * view.scale, room: LINE }));
  const places = spread(wishes, 0, length) ?? wishes.map(({ at }) => at);
  const upward = side === 'bottom' || side === 'top';
  const anchor = side === 'left' || side === 'bottom' ? ('end' as const) : undefined;
  row.forEach(({ kind, pin }, i) => {
    const to = (places[i] ?? 0) / view.scale;
    const point = (s: number, out: number): { x: number; y: number } =>
      onSheet(view, side, s, -out / view.scale);
    const edge = onSheet(view, side, pin.place.s, pin.place.t);
    const [a, b, c] = [point(pin.place.s, 1), point(to, FAN - 1), point(to, FAN - 0.4)];
    const d = [a, b, c].map(({ x, y }) => `L${mm(x)} ${mm(y)}`).join('');
    add(leaders, 'path', { d: `M${mm(edge.x)} ${mm(edge.y)}${d}` });
    const text = shorten(clean(`${SIGN[kind]}${pin.pin}`), (BAND - FAN - 1) / LEAST_SIZE);
    const { x, y } = point(to, FAN);
    const letters = lettering(pen, LEAST_SIZE, { fill: LOOKS[kind].colour });
    write(letters, x, y, text, { ...(anchor ? { anchor } : {}), upward }, { 'data-pin': pin.key });
  });
  return all.length - kept.length;
}
