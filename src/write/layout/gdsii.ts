/**
 * The ring as GDSII: one structure that refers to the library's cells by name and holds the ring's own metal. The
 * cells themselves are not in the file; they are found when it is read together with the library's.
 *
 * A label is no shape: where a pad's centre lies half a step off the database unit it goes to the step below. Dates
 * are zero, so that the same ring gives the same bytes. Structure names keep to the standard's letters, digits,
 * `_`, `?` and `$`; the 32 characters of its first release are not held, because a shortened name would refer to
 * another cell and readers take longer ones.
 */
import type { Placement } from '../../format/placement.ts';
import { exactUnits, PER_MICROMETRE, type Units, units } from '../../geometry/units.ts';
import { failed, found, type Outcome } from '../../problems/problem.ts';
import { coreMetal, type LayerMap, type LayerNumber, outsidePads, resolveLayers } from './layers.ts';
import { legalByName, legalNames, NOT_PRINTABLE } from './names.ts';
import { type Box, boxAbout, type Scale, scaleOf } from './scale.ts';
import { RECORD, type Stream, stream } from './stream.ts';

export const NO_NAME_CHARACTER = /[^A-Za-z0-9_?$]/gu;

/** GDSII reflects about the x axis before it turns: bit 0, counted from the high end. */
const REFLECTED = 0x8000;

/** Vertically and horizontally in the middle. */
const CENTRED = 0b0101;

const NO_DATES = Array.from({ length: 12 }, () => 0);

/** The bytes of a GDSII file, or what stands against it: a layer without a number, a shape off the unit. */
export function gdsii(placement: Placement, layerMap: LayerMap): Outcome<Uint8Array> {
  const layers = resolveLayers(layerMap, placement);
  if (!layers.ok) return layers;
  const step = databaseUnit(placement.units.grid);
  const scale = scaleOf(step, 'GDSII');
  const out = stream();

  const footprints = legalByName(
    placement.cells.map((cell) => cell.footprint),
    NO_NAME_CHARACTER,
  );
  const [top = 'ring'] = legalNames([placement.ring], NO_NAME_CHARACTER, footprints.values());
  const pins = legalByName(
    placement.bondPads.map((pad) => pad.pin),
    NOT_PRINTABLE,
  );

  out.shorts(RECORD.header, [600]);
  out.shorts(RECORD.beginLibrary, NO_DATES);
  out.ascii(RECORD.libraryName, top);
  out.reals(RECORD.units, [step / PER_MICROMETRE, step / 1e12]);
  out.shorts(RECORD.beginStructure, NO_DATES);
  out.ascii(RECORD.structureName, top);

  const outline = { x: 0, y: 0, ...placement.die };
  if (layers.value.die) boundary(out, scale, layers.value.die, outline, 'the die');
  for (const cell of placement.cells) {
    out.empty(RECORD.structureReference);
    out.ascii(RECORD.referenceName, footprints.get(cell.footprint) ?? cell.footprint);
    out.shorts(RECORD.transform, [cell.mirrored ? REFLECTED : 0]);
    // The placement mirrors x to -x; a reflection about the x axis is that and half a turn.
    const angle = (cell.rotation + (cell.mirrored ? 180 : 0)) % 360;
    if (angle !== 0) out.reals(RECORD.angle, [angle]);
    const item = `cell ${cell.name}`;
    out.longs(RECORD.points, [scale.whole(cell.origin.x, item), scale.whole(cell.origin.y, item)]);
    out.empty(RECORD.endElement);
    if (layers.value.cells) boundary(out, scale, layers.value.cells, cell, item);
  }
  for (const pad of outsidePads(placement)) {
    const item = `bond pad ${pad.number}`;
    boundary(out, scale, layers.value.bondPads, boxAbout(pad, pad), item);
    boundary(out, scale, layers.value.openings, boxAbout(pad, pad.opening), `the opening of ${item}`);
  }
  for (const stem of placement.stems)
    for (const name of stem.layers)
      boundary(out, scale, layers.value.stem(name), stem, `the stem of bond pad ${stem.bondPad}`);
  for (const rail of placement.rails)
    for (const rectangle of rail.rectangles)
      boundary(out, scale, layers.value.rail(rectangle.layer), rectangle, `a rail of lane ${rail.lane}`);
  for (const { net, layer, box } of coreMetal(placement))
    boundary(out, scale, layers.value.coreStrip(layer), box, `a core strip of ${net}`);
  for (const pad of placement.bondPads)
    label(out, scale, layers.value.labels, pad, pins.get(pad.pin) ?? pad.pin);

  out.empty(RECORD.endStructure);
  out.empty(RECORD.endLibrary);
  const problems = scale.problems();
  return problems.length > 0 ? failed(...problems) : found(out.bytes());
}

/**
 * The database unit for a grid in micrometres: a nanometre, which nearly every library uses, or the largest tenth,
 * hundredth and so on of it that divides the grid.
 */
export function databaseUnit(grid: number): Units {
  const exact = exactUnits(grid) ?? 1;
  let step = 1000;
  while (step > 1 && exact % step !== 0) step /= 10;
  return units(step);
}

function boundary(out: Stream, scale: Scale, layer: LayerNumber, box: Box, item: string): void {
  const [left, low] = [scale.whole(box.x, item), scale.whole(box.y, item)];
  const [right, high] = [left + scale.whole(box.width, item), low + scale.whole(box.height, item)];
  out.empty(RECORD.boundary);
  out.shorts(RECORD.layer, [layer.layer]);
  out.shorts(RECORD.datatype, [layer.datatype]);
  out.longs(RECORD.points, [left, low, right, low, right, high, left, high, left, low]);
  out.empty(RECORD.endElement);
}

function label(
  out: Stream,
  scale: Scale,
  layer: LayerNumber,
  at: { readonly x: number; readonly y: number },
  text: string,
): void {
  out.empty(RECORD.text);
  out.shorts(RECORD.layer, [layer.layer]);
  out.shorts(RECORD.textType, [layer.datatype]);
  out.shorts(RECORD.presentation, [CENTRED]);
  out.longs(RECORD.points, [scale.below(at.x, `label ${text}`), scale.below(at.y, `label ${text}`)]);
  out.ascii(RECORD.string, text);
  out.empty(RECORD.endElement);
}
