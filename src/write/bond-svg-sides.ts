/**
 * Sheets of one side's wires each, for packages whose names do not fit around the whole: the side turned down, its
 * fingers' names and pins below, its pads' numbers above. A side that needs several sheets goes on in
 * `bond-left-2.svg`.
 */
import type { Wire } from '../bond/wires.ts';
import type { PlacedPackage, Placement } from '../format/placement.ts';
import { SIDES, type Side } from '../geometry/side.ts';
import { drawBondColumn } from './bond-svg-column.ts';
import { type Diagram, diagramOf, drawDie, drawFingers, drawWires } from './bond-svg-draw.ts';
import { markWireFindings, wireFindings } from './bond-svg-findings.ts';
import { drawLabels, drawPadNumbers, takenBoxes } from './bond-svg-labels.ts';
import {
  AREA,
  type BondPlan,
  LABEL_GAP,
  type Label,
  labelTexts,
  widestOf,
  withinLabels,
} from './bond-svg-plan.ts';
import { boundsOf, type Finger, fingerLength, fingerShape, QUARTERS_DOWN, viewAt } from './bond-svg-view.ts';
import { add, drawSheet, group } from './canvas.ts';
import { spread } from './spread.ts';
import { LEAST_SIZE, lineRoom } from './text.ts';
import { ringTitle } from './title.ts';

const SIZE = LEAST_SIZE;
const LONGEST = 45;
const FAN = 14;
/** Fingers a sheet: each has a line below. */
const MOST = Math.floor(AREA.width / lineRoom(SIZE)) - 2;

export function sideSheets(
  placement: Placement,
  bonded: PlacedPackage,
  wires: readonly Wire[],
): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  for (const side of SIDES) {
    const fingers = inOrder(
      bonded.fingers.filter((finger) => finger.side === side),
      side,
    );
    const sheets = Math.ceil(fingers.length / MOST);
    const each = Math.ceil(fingers.length / Math.max(1, sheets));
    for (let i = 0; i < sheets; i++) {
      const name = `bond-${side}${i === 0 ? '' : `-${i + 1}`}`;
      const part = sheets > 1 ? `, sheet ${i + 1} of ${sheets}` : '';
      const some = fingers.slice(i * each, (i + 1) * each);
      files.set(`${name}.svg`, drawSide(name, side, part, placement, bonded, wires, some));
    }
  }
  return files;
}

/** Fingers of a side from left to right once it is turned down. */
const inOrder = (fingers: readonly Finger[], side: Side): readonly Finger[] => {
  const along = ({ x, y }: Finger): number =>
    side === 'bottom' ? x : side === 'right' ? y : side === 'top' ? -x : -y;
  return [...fingers].sort((a, b) => along(a) - along(b) || a.tier - b.tier);
};

function drawSide(
  name: string,
  side: Side,
  part: string,
  placement: Placement,
  bonded: PlacedPackage,
  wires: readonly Wire[],
  fingers: readonly Finger[],
): string {
  const what = `the package\u2019s ${side} side${part}`;
  const about = { title: ringTitle(placement, what), text: `Bond diagram of ${what}, turned down.` };
  const names = new Set(fingers.map((finger) => finger.name));
  const own = wires.filter((wire) => wire.finger !== null && names.has(wire.finger));
  return drawSheet(name, about, ({ defs, page }) => {
    const diagram = diagramOf(name, placement, bonded, wires);
    const pads = placement.bondPads.filter((pad) => own.some((wire) => wire.bondPad === pad.number));
    const plan = planSide(diagram, side, fingers, own);
    add(add(defs, 'clipPath', { id: `${name}-clip` }), 'rect', {
      x: AREA.x,
      y: AREA.y,
      width: AREA.width,
      height: AREA.height - (plan.long.bottom + FAN / 2),
    });
    const drawing = group(page, { class: 'drawing', 'clip-path': `url(#${name}-clip)` });
    drawFingers(drawing, diagram, plan.view, fingers);
    drawDie(drawing, diagram, plan.view, pads);
    drawWires(drawing, diagram, plan.view, own);
    drawLabels(page, diagram, plan);
    const taken = takenBoxes();
    const about = new Set([...names, ...own.map((wire) => wire.pin)]);
    const findings = wireFindings(placement, about);
    drawPadNumbers(page, diagram, plan.view, pads, taken);
    markWireFindings(page, diagram, plan.view, findings, withinLabels(plan), taken);
    drawBondColumn(page, diagram, { what, notes: [], scale: plan.view.scale, wires: own, findings });
  });
}

function planSide(diagram: Diagram, side: Side, fingers: readonly Finger[], own: readonly Wire[]): BondPlan {
  const texts = labelTexts(fingers, own, LONGEST / SIZE);
  const numbers = widestOf(texts, 'number') * SIZE;
  const pads = widestOf(texts, 'pads') * SIZE;
  const bottom = numbers + pads + widestOf(texts, 'names') * SIZE + 2 * LABEL_GAP * SIZE;
  const quarters = QUARTERS_DOWN[side];
  const flat = viewAt(0, 0, { x: 0, y: 0 }, 1, quarters);
  const length = fingerLength(diagram.bonded.fingers);
  const bounds = boundsOf(
    [
      ...fingers.flatMap((finger) => fingerShape(finger, length).corners),
      ...own.flatMap((wire) => [wire.from, wire.to]),
    ].map(({ x, y }) => flat.spot(x, y)),
  ) ?? { x: -1, y: -1, width: 2, height: 2 };
  // Room above for the pads and their numbers.
  const HEAD = 26;
  const room = { width: AREA.width - 6, height: AREA.height - bottom - FAN - HEAD };
  const scale = Math.min(room.width / Math.max(1, bounds.width), room.height / Math.max(1, bounds.height));
  const middle = { x: bounds.x + bounds.width / 2, y: bounds.y + bounds.height / 2 };
  const at = { x: AREA.x + AREA.width / 2, y: AREA.y + HEAD + room.height / 2 };
  const view = viewAt(0, 0, { x: at.x - middle.x * scale, y: at.y - middle.y * scale }, scale, quarters);
  const drafts = texts
    .map((text) => {
      const { tail } = fingerShape(text.finger, length);
      return { ...text, tail: view.spot(tail.x, tail.y) };
    })
    .sort((a, b) => a.tail.x - b.tail.x);
  const places = spread(
    drafts.map(({ tail }) => ({ at: tail.x, room: lineRoom(SIZE) })),
    AREA.x,
    AREA.x + AREA.width,
  );
  const labels = drafts.map(
    (draft, i): Label => ({ ...draft, side: 'bottom', place: places?.[i] ?? draft.tail.x }),
  );
  return {
    view,
    size: SIZE,
    labels,
    long: { left: 0, bottom, right: 0, top: 0 },
    numbers,
    pads,
    named: true,
  };
}
