/**
 * `bond.svg`: the bond diagram on one A3 sheet, and further sheets where it holds too much for one: `bond-left.svg` and
 * its like with the names of a side's fingers and pins, `bond-wires.svg` with the table of wires.
 *
 * Groups by purpose, each with an id `bond-<purpose>` (the sheet's name, then the purpose) and a class: `die` (with
 * `pads`), `fingers`, `wires`, `names`, `pad-numbers`, `findings`, `legend`. What stands for a thing carries its name:
 * `data-pad` (the number), `data-finger`, `data-wire` (its number), `data-net`, `data-finding`.
 */
import { type Wire, wiresOf } from '../bond/wires.ts';
import type { PlacedPackage, Placement } from '../format/placement.ts';
import { drawBondColumn } from './bond-svg-column.ts';
import { diagramOf, drawDie, drawFingers, drawRooms, drawWires, markFirstPad } from './bond-svg-draw.ts';
import { markWireFindings, wireFindings } from './bond-svg-findings.ts';
import { drawLabels, drawPadNumbers, markFirstFinger, takenBoxes } from './bond-svg-labels.ts';
import { type BondPlan, planBonds, withinLabels } from './bond-svg-plan.ts';
import { sideSheets } from './bond-svg-sides.ts';
import { drawTable, roomFor, tableOf } from './bond-svg-table.ts';
import { drawSheet, group, lettering, SHEET, write } from './canvas.ts';
import { counted } from './numbers.ts';
import { LEAST_SIZE } from './text.ts';
import { ringTitle } from './title.ts';

const NAME = 'bond';
/** More wires than this are listed in `wires.csv` alone. */
const MOST_LISTED = 4000;

/** File names and texts; none where the placement has no package. */
export function bondSheets(
  placement: Placement,
  wires: readonly Wire[] = wiresOf(placement),
): ReadonlyMap<string, string> {
  const bonded = placement.package;
  if (bonded === undefined) return new Map();
  const plan = planBonds(placement, bonded, wires);
  const many = wires.length > MOST_LISTED;
  const sides = plan.named || many ? new Map<string, string>() : sideSheets(placement, bonded, wires);
  const names = many ? 'Pins: see wires.csv.' : `Names do not fit here: see ${[...sides.keys()].join(', ')}.`;
  const about = plan.named ? [] : [names];
  const whole = many ? undefined : drawFirst(placement, bonded, wires, plan, wires, about);
  if (whole?.fits === true) return new Map([[`${NAME}.svg`, whole.file], ...sides]);
  const tables = many ? new Map<string, string>() : tableSheets(placement, wires);
  const listed = many ? 'Wires: see wires.csv.' : `The table of wires: see ${[...tables.keys()].join(', ')}.`;
  const { file } = drawFirst(placement, bonded, wires, plan, [], [...about, listed]);
  return new Map([[`${NAME}.svg`, file], ...sides, ...tables]);
}

/** The first sheet, with a table of some wires if that fits. */
function drawFirst(
  placement: Placement,
  bonded: PlacedPackage,
  wires: readonly Wire[],
  plan: BondPlan,
  listed: readonly Wire[],
  notes: readonly string[],
): { readonly file: string; readonly fits: boolean } {
  const text = `Die in package ${bonded.name}: ${counted(wires.length, 'wire')} from ${counted(placement.bondPads.length, 'bond pad')} to ${counted(bonded.fingers.length, 'finger')}.`;
  let fits = false;
  const file = drawSheet(NAME, { title: ringTitle(placement, 'the bond diagram'), text }, ({ page }) => {
    const diagram = diagramOf(NAME, placement, bonded, wires);
    const { view } = plan;
    const drawing = group(page, { class: 'drawing' });
    drawRooms(drawing, diagram, view);
    drawFingers(drawing, diagram, view, bonded.fingers);
    drawDie(drawing, diagram, view, placement.bondPads);
    drawWires(drawing, diagram, view, wires);
    markFirstPad(drawing, diagram, view);
    markFirstFinger(drawing, plan, bonded.fingers[0]?.name);
    drawLabels(page, diagram, plan);
    const taken = takenBoxes();
    const findings = wireFindings(placement);
    drawPadNumbers(page, diagram, view, placement.bondPads, taken);
    markWireFindings(page, diagram, view, findings, withinLabels(plan), taken);
    const what = 'bond diagram, seen from above';
    fits = drawBondColumn(page, diagram, { what, notes, scale: view.scale, wires: listed, findings });
  });
  return { file, fits };
}

/** The table of wires on sheets of its own. */
function tableSheets(placement: Placement, wires: readonly Wire[]): ReadonlyMap<string, string> {
  const HEAD = 9;
  const [width, height] = [SHEET.width - 2 * SHEET.margin, SHEET.height - 2 * SHEET.margin - HEAD];
  const each = Math.max(1, roomFor(tableOf(wires, true), width, height));
  const files = new Map<string, string>();
  const sheets = Math.ceil(wires.length / each);
  for (let i = 0; i < sheets; i++) {
    const part = sheets > 1 ? `, sheet ${i + 1} of ${sheets}` : '';
    const name = `${NAME}-wires${i === 0 ? '' : `-${i + 1}`}`;
    const title = ringTitle(placement, `the wires${part}`);
    const file = drawSheet(name, { title, text: `Table of wires${part}.` }, ({ page }) => {
      const top = SHEET.margin + 3;
      write(lettering(page, 4), SHEET.margin, top, title);
      write(
        lettering(page, LEAST_SIZE),
        SHEET.margin,
        top + 4.6,
        'pad, pin, net, finger; span in plan and length with its loop in micrometres; angle to the side\u2019s normal',
      );
      const table = tableOf(wires.slice(i * each, (i + 1) * each), true);
      drawTable(group(page, { class: 'table' }), table, SHEET.margin, SHEET.margin + HEAD, width, height);
    });
    files.set(`${name}.svg`, file);
  }
  return files;
}
