/** Corruptions of stems. */
import { drop, footprintOf, isOutside, isVertical, type Operator, operator } from './operator.ts';

export const STEM_OPERATORS: readonly Operator[] = [
  operator('a stem gone', 'stem-missing', (p, dice) => {
    const stem = dice.of(p.stems);
    if (stem === undefined) return false;
    drop(p.stems, stem);
    return true;
  }),
  operator('a stem doubled', 'stem-needless', (p, dice) => {
    const stem = dice.of(p.stems);
    if (stem === undefined) return false;
    p.stems.push(structuredClone(stem));
    return true;
  }),
  operator('a stem where the pad lies on its cell', 'stem-needless', (p, dice) => {
    const pad = dice.of(p.bondPads.filter((b) => !isOutside(p, b.side)));
    if (pad === undefined) return false;
    p.stems.push({
      bondPad: pad.number,
      layers: p.rules.stems.layers,
      x: pad.x,
      y: pad.y,
      width: 5,
      height: 5,
    });
    return true;
  }),
  operator('a stem moved by one grid step', 'stem-shape', (p, dice) => {
    const stem = dice.of(p.stems);
    if (stem === undefined) return false;
    stem[dice.below(2) === 0 ? 'x' : 'y'] += p.units.grid;
    return true;
  }),
  operator('a stem narrowed', 'stem-shape', (p, dice) => {
    const stem = dice.of(p.stems);
    if (stem === undefined) return false;
    stem.width -= p.units.grid;
    return true;
  }),
  operator('a stem widened into its neighbours', 'stem-spacing', (p, dice) => {
    const stem = dice.of(p.stems);
    const pad = p.bondPads.find((b) => b.number === stem?.bondPad);
    const others = p.bondPads.filter((b) => b.side === pad?.side && b !== pad);
    if (stem === undefined || pad === undefined || others.length === 0) return false;
    const by = p.die.width + p.die.height;
    if (isVertical(pad.side)) [stem.y, stem.height] = [stem.y - by, stem.height + 2 * by];
    else [stem.x, stem.width] = [stem.x - by, stem.width + 2 * by];
    return true;
  }),
  operator('a stem over a cell not its own', 'stem-on-cell', (p, dice) => {
    const stem = dice.of(p.stems);
    const pad = p.bondPads.find((b) => b.number === stem?.bondPad);
    const cell = dice.of(p.cells.filter((c) => c.name !== pad?.cell));
    if (stem === undefined || pad === undefined || cell === undefined) return false;
    [stem.x, stem.y] = [cell.x, cell.y];
    // On a layer of a strip it would be a short.
    stem.layers = ['M99'];
    return true;
  }),
  operator('a stem over a strip of another net', 'stem-short', (p, dice) => {
    const stem = dice.of(p.stems);
    const pad = p.bondPads.find((b) => b.number === stem?.bondPad);
    const rail = dice.of(p.rails.filter((r) => r.net !== pad?.net));
    const strip = dice.of(rail?.rectangles.filter((r) => stem?.layers.includes(r.layer)) ?? []);
    if (stem === undefined || strip === undefined) return false;
    [stem.x, stem.y] = [strip.x, strip.y];
    return true;
  }),
  operator('a cell with a strip at its edge where its stem ends', 'stem-short', (p, dice) => {
    const stem = dice.of(p.stems);
    const pad = p.bondPads.find((b) => b.number === stem?.bondPad);
    const cell = p.cells.find((c) => c.name === pad?.cell);
    const section = p.sections.find((s) => s.name === cell?.section);
    const own = cell === undefined ? undefined : footprintOf(p, cell);
    const lane = dice.of(own?.lanes.filter((l) => section?.lanes[l.lane] !== pad?.net) ?? []);
    const [layer] = stem?.layers ?? [];
    if (lane === undefined || layer === undefined) return false;
    lane.strips.push({ layer, from: 0, to: 2, edges: 'both', carry: 'through' });
    return true;
  }),
  operator('a stem on another layer', 'stem-layers', (p, dice) => {
    const stem = dice.of(p.stems);
    if (stem === undefined) return false;
    stem.layers = dice.below(2) === 0 ? [] : ['M1'];
    return true;
  }),
  operator('stems on no layer, and none asked for', 'stem-layers', (p) => {
    if (p.stems.length === 0) return false;
    p.rules.stems.layers = [];
    for (const stem of p.stems) stem.layers = [];
    return true;
  }),
  operator('a stem on one layer twice instead of two', 'stem-layers', (p, dice) => {
    const stem = dice.of(p.stems);
    if (stem === undefined) return false;
    p.rules.stems.layers = ['M1', 'M2'];
    for (const other of p.stems) other.layers = ['M1', 'M2'];
    stem.layers = ['M1', 'M1'];
    return true;
  }),
  operator('a stem of another bond pad', 'stem-missing', (p, dice) => {
    const stem = dice.of(p.stems);
    const other = dice.of(p.bondPads.filter((b) => b.number !== stem?.bondPad));
    if (stem === undefined || other === undefined) return false;
    stem.bondPad = other.number;
    return true;
  }),
  operator('a stem of no bond pad', 'unknown-name', (p, dice) => {
    const stem = dice.of(p.stems);
    if (stem === undefined) return false;
    stem.bondPad = 9999;
    return true;
  }),
];
