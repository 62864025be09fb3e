/**
 * The core strips as a placement has them, whoever drew them: closed, of one width, clear of cells, core and other
 * nets, and joined to every supply cell of their net on which a strap can land. It takes nothing from where the strips are made.
 */
import type { CoreStrip, PlacedCell, Placement } from '../format/placement.ts';
import { feedingPads, type RingCell } from './arcs.ts';
import type { ElectricalHit } from './rules.ts';
import { type Box, boxOf, covers, middle, outerOf, overlap, pm, um, within } from './strip-boxes.ts';
import { askedHits } from './strips-asked.ts';

/** A piece of metal of a net. */
interface Metal {
  readonly net: string;
  readonly layer: string;
  readonly what: string;
  readonly box: Box;
}

export function stripShapeHits(placement: Placement, ring: readonly RingCell[]): readonly ElectricalHit[] {
  const strips = placement.coreStrips ?? [];
  const wanted = placement.rules.electrical?.coreStrips ?? null;
  return [
    ...askedHits(placement, strips, wanted),
    ...strips.flatMap((strip) => frameHits(strip)),
    ...roomHits(placement, strips, pm(wanted?.clearance ?? 0)),
    ...strips.flatMap((strip) => strapHits(placement, strip, ring)),
    ...nearHits(strips, pm(wanted?.spacing ?? 0)),
    ...railHits(placement, strips),
  ];
}

/** Four rectangles, each from one outer corner to the next, all as wide as the strip says. */
function frameHits(strip: CoreStrip): readonly ElectricalHit[] {
  const boxes = strip.rectangles.map(boxOf);
  const outer = outerOf(strip);
  if (outer === undefined)
    return [{ message: `the core strip of ${strip.net} has no metal`, items: [strip.net] }];
  const width = pm(strip.width);
  const { x0, y0, x1, y1 } = outer;
  const frame: readonly Box[] = [
    { x0, y0, x1: x0 + width, y1 },
    { x0, y0, x1, y1: y0 + width },
    { x0: x1 - width, y0, x1, y1 },
    { x0, y0: y1 - width, x1, y1 },
  ];
  const key = (b: Box): string => `${b.x0} ${b.y0} ${b.x1} ${b.y1}`;
  const drawn = boxes.map(key).sort();
  const closed =
    frame.map(key).sort().join() === drawn.join() &&
    strip.rectangles.every((r) => r.layer === strip.layer) &&
    x1 - x0 > 2 * width &&
    y1 - y0 > 2 * width;
  if (closed) return [];
  return [
    {
      message: `the core strip of ${strip.net} is no closed strip ${strip.width} um wide on ${strip.layer}`,
      items: [strip.net],
      at: middle(outer),
    },
  ];
}

/** Strips run around the core, within the ring: clear of both, and of the ring by the clearance that is asked for. */
function roomHits(
  { cells, core }: Placement,
  strips: readonly CoreStrip[],
  clearance: number,
): readonly ElectricalHit[] {
  const hits: ElectricalHit[] = [];
  const coreBox = boxOf(core);
  for (const strip of strips) {
    const { net } = strip;
    const boxes = strip.rectangles.map(boxOf);
    const outer = outerOf(strip);
    if (outer === undefined) continue;
    const over = boxes.find((b) => overlap(b, coreBox));
    if (over !== undefined)
      hits.push({ message: `the core strip of ${net} lies over the core`, items: [net], at: middle(over) });
    else if (!covers(outer, coreBox))
      hits.push({
        message: `the core strip of ${net} does not run around the core`,
        items: [net],
        at: middle(outer),
      });
    const near: PlacedCell[] = [];
    for (const cell of cells) {
      const own = boxOf(cell);
      if (boxes.some((b) => overlap(b, own)))
        hits.push({
          message: `the core strip of ${net} lies over the cell ${cell.name}`,
          items: [net, cell.name],
          at: middle(own),
        });
      else if (within(outer, own, clearance)) near.push(cell);
    }
    const [first] = near;
    if (first !== undefined)
      hits.push({
        message: `the core strip of ${net} comes nearer to the cell ${first.name}${near.length === 1 ? '' : ` and ${near.length - 1} more`} than the ${um(clearance)} that are asked for, or runs around ${near.length === 1 ? 'it' : 'them'}`,
        items: [net, first.name],
        at: middle(boxOf(first)),
      });
  }
  return hits;
}

/** Where a strap starts on a cell: the metal's middle along the side, its width, and its inner end. */
function footBox({ cell, side, along }: RingCell, at: number, width: number, t: number): Box {
  const s = cell.mirrored ? along - at : at;
  const [low, high] = [s - width / 2, s + width / 2];
  const { x, y, width: w, height: h } = cell;
  // A line as wide as the strap, at the foot's inner end.
  const line =
    side === 'bottom'
      ? { x: x + low, y: y + t, width: high - low, height: 0 }
      : side === 'top'
        ? { x: x + w - high, y: y + h - t, width: high - low, height: 0 }
        : side === 'right'
          ? { x: x + w - t, y: y + low, width: 0, height: high - low }
          : { x: x + t, y: y + h - high, width: 0, height: high - low };
  return boxOf(line);
}

/** Where a strap has to start: what it joins there, and from where to where it may reach inward. */
interface Foot {
  readonly layer: string;
  readonly line: Box;
  readonly room: Box;
}

/** From the line of a foot straight inward, as wide as the foot, to the inner edge of the strip on that side. */
function roomOf({ x0, y0, x1, y1 }: Box, side: RingCell['side'], outer: Box, width: number): Box {
  if (side === 'bottom') return { x0, y0, x1, y1: outer.y0 + width };
  if (side === 'top') return { x0, y0: outer.y1 - width, x1, y1 };
  if (side === 'left') return { x0, y0, x1: outer.x0 + width, y1 };
  return { x0: outer.x1 - width, y0, x1, y1 };
}

/** Whether a strap leads from a foot to the metal of its strip, on which it has to lie, and nowhere else. */
function leads(
  strap: CoreStrip['straps'][number],
  { layer, line, room }: Foot,
  metal: readonly Box[],
): boolean {
  const box = boxOf(strap);
  if (strap.layer !== layer || !covers(box, line) || !covers(room, box)) return false;
  return metal.some((m) => overlap(m, box));
}

function strapHits(
  placement: Placement,
  strip: CoreStrip,
  ring: readonly RingCell[],
): readonly ElectricalHit[] {
  const lanes = new Map(placement.sections.map((section) => [section.name, section.lanes]));
  const metal = strip.rectangles.map(boxOf);
  const outer = outerOf(strip);
  if (outer === undefined) return [];
  const hits: ElectricalHit[] = [];
  if (strip.straps.length === 0)
    hits.push({
      message: `no strap joins the core strip of ${strip.net} to the ring: nothing feeds it`,
      items: [strip.net],
    });
  const strapsOf = new Map<string, CoreStrip['straps'][number][]>();
  for (const strap of strip.straps) strapsOf.set(strap.cell, [...(strapsOf.get(strap.cell) ?? []), strap]);
  const expected = new Set<string>();
  for (const one of ring) {
    const { cell, footprint, side } = one;
    const own = lanes.get(cell.section ?? '');
    const feet = (footprint.straps ?? [])
      .filter((foot) => own?.[foot.lane] === strip.net && feedingPads(one, foot.lane).length > 0)
      .map((foot): Foot => {
        const line = footBox(one, foot.at, foot.width, foot.t);
        return { layer: foot.layer, line, room: roomOf(line, side, outer, pm(strip.width)) };
      });
    if (feet.length === 0) continue;
    expected.add(cell.name);
    const straps = strapsOf.get(cell.name) ?? [];
    const bare = feet.filter((foot) => !straps.some((strap) => leads(strap, foot, metal)));
    for (const { line } of bare)
      hits.push({
        message: `no strap joins the core strip of ${strip.net} to supply cell ${cell.name}`,
        items: [strip.net, cell.name],
        at: middle(line),
      });
    // One that fails to join its landing is told already.
    for (const strap of bare.length > 0 ? [] : straps)
      if (!feet.some((foot) => leads(strap, foot, metal)))
        hits.push({
          message: `a strap of the core strip of ${strip.net} does not lead from its landing on ${cell.name} straight to the strip`,
          items: [strip.net, cell.name],
          at: middle(boxOf(strap)),
        });
  }
  for (const strap of strip.straps)
    if (!expected.has(strap.cell))
      hits.push({
        message: `a strap joins the core strip of ${strip.net} to ${strap.cell}, on which none of that net lands`,
        items: [strip.net, strap.cell],
        at: middle(boxOf(strap)),
      });
  return hits;
}

/** Metal of two nets on one layer keeps the strips' spacing. */
function nearHits(strips: readonly CoreStrip[], spacing: number): readonly ElectricalHit[] {
  const all = strips.map(({ net, rectangles, straps }): readonly Metal[] => [
    ...rectangles.map((r) => ({ net, layer: r.layer, what: 'strip', box: boxOf(r) })),
    ...straps.map((r) => ({ net, layer: r.layer, what: `strap of ${r.cell}`, box: boxOf(r) })),
  ]);
  const hits: ElectricalHit[] = [];
  for (const [i, own] of all.entries())
    for (const other of all.slice(i + 1))
      for (const a of own)
        for (const b of other) {
          if (a.layer !== b.layer || a.net === b.net || !within(a.box, b.box, spacing)) continue;
          hits.push({
            message: overlap(a.box, b.box)
              ? `the ${a.what} of ${a.net} and the ${b.what} of ${b.net} short on ${a.layer}`
              : `the ${a.what} of ${a.net} and the ${b.what} of ${b.net} are nearer than ${um(spacing)} on ${a.layer}`,
            items: [a.net, b.net],
            at: middle(a.box),
          });
        }
  return hits;
}

/** A strap crosses no rail of another net on its own layer. */
function railHits({ rails }: Placement, strips: readonly CoreStrip[]): readonly ElectricalHit[] {
  const hits: ElectricalHit[] = [];
  for (const strip of strips)
    for (const strap of strip.straps) {
      const box = boxOf(strap);
      const crossed = rails.find(
        (rail) =>
          rail.net !== strip.net &&
          rail.rectangles.some((r) => r.layer === strap.layer && overlap(boxOf(r), box)),
      );
      if (crossed !== undefined)
        hits.push({
          message: `the strap of ${strip.net} on ${strap.cell} shorts to the rail of ${crossed.net} on ${strap.layer}`,
          items: [strip.net, strap.cell],
          at: middle(box),
        });
    }
  return hits;
}
