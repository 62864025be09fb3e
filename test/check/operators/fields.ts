/** Corruptions of limits, derived fields, rules, and of the file itself. */
import { type Draft, type Operator, operator, styleOf } from './operator.ts';

/** Centres of one row's neighbours. */
function pitches(p: Draft): number[] {
  return p.sides.flatMap(({ side }) =>
    (['single', 'outer', 'inner'] as const).flatMap((row) => {
      const pads = p.bondPads.filter((b) => b.side === side && b.row === row);
      const at = pads.map((b) => (side === 'left' || side === 'right' ? b.y : b.x)).sort((a, b) => a - b);
      return at.slice(1).map((s, i) => s - (at[i] ?? 0));
    }),
  );
}

const WRONG: readonly unknown[] = ['text', -1, null, true, [], {}, Number.POSITIVE_INFINITY];

/** Replaces some value deep in the file; its new value is of no type that stood there. */
function scramble(p: Draft, below: (n: number) => number, to: (old: unknown) => unknown): boolean {
  let here: unknown = p;
  for (let depth = 0; depth < 8; depth++) {
    if (typeof here !== 'object' || here === null) return false;
    const keys = Object.keys(here);
    const key = keys[below(keys.length)];
    if (key === undefined) return false;
    const next: unknown = Reflect.get(here, key);
    if (typeof next !== 'object' || next === null || below(4) === 0) {
      // What is null may be something else, and format and version have codes of their own.
      if (next === null || key === 'format' || key === 'version') return false;
      Reflect.set(here, key, to(next));
      return true;
    }
    here = next;
  }
  return false;
}

const kind = (value: unknown): string =>
  value === null ? 'null' : Array.isArray(value) ? 'list' : typeof value;

export const FIELD_OPERATORS: readonly Operator[] = [
  operator('a least pitch one grid step above the rows', 'pad-pitch', (p) => {
    p.rules.pads.pitch = Math.min(...pitches(p)) + p.units.grid;
  }),
  operator('a wider pitch asked for near the corners', 'corner-pitch', (p) => {
    p.rules.corners.pitches.push({ pads: 50, pitch: Math.max(...pitches(p)) + p.units.grid });
  }),
  operator('a spacing of metal that no pads keep', 'pad-spacing', (p) => {
    p.rules.pads.spacing = Math.max(...pitches(p));
  }),
  operator('a spacing of openings that no pads keep', 'opening-spacing', (p) => {
    p.rules.pads.openingSpacing = Math.max(...pitches(p));
  }),
  operator('an inset of openings one grid step above what is there', 'opening-inset', (p) => {
    p.rules.pads.openingInset =
      Math.min(...p.bondPads.map((b) => (b.width - b.opening.width) / 2)) + p.units.grid;
  }),
  operator('a least distance to the seal ring above what is there', 'opening-to-seal', (p) => {
    p.rules.pads.openingToSeal = { least: 200, most: null };
  }),
  operator('a greatest distance to the seal ring below what is there', 'opening-to-seal', (p) => {
    p.rules.pads.openingToSeal = { least: 0, most: 1 };
  }),
  operator('a spacing of stems that none keeps', 'stem-spacing', (p) => {
    const sides = p.stems.map((s) => p.bondPads.find((b) => b.number === s.bondPad)?.side);
    if (new Set(sides).size === sides.length) return false;
    p.rules.stems.spacing = p.die.width + p.die.height;
    return true;
  }),
  operator('a corner clearance above what is there', 'corner-clearance', (p) => {
    p.rules.corners.clearance = p.die.width / 2;
  }),
  operator('a core that has no room', 'core-fits', (p) => {
    p.rules.core.width = p.die.width;
  }),
  operator('limits that contradict each other', 'limits', (p) => {
    p.rules.pads.openingToSeal = { least: 10, most: 9 };
  }),
  operator('a wider street', 'row-place', (p) => {
    p.rules.edge.street += p.units.grid;
  }),
  operator('a wider seal ring', 'edge-allowance', (p) => {
    p.rules.edge.seal += p.units.grid;
  }),
  operator('another gap between pads and cells', 'row-place', (p) => {
    if (!p.sides.some((s) => ['inline', 'staggered'].includes(s.style) && s.bondPads > 0)) return false;
    p.rules.pads.toCell += p.units.grid;
    return true;
  }),
  operator('another gap between the rows', 'pad-row', (p) => {
    if (!p.bondPads.some((b) => b.row === 'inner')) return false;
    p.rules.rows.gap += p.units.grid;
    return true;
  }),
  operator('another inset of the rows over circuit', 'pad-row', (p) => {
    if (!p.sides.some((s) => s.style === 'over-circuit' && s.bondPads > 0)) return false;
    p.rules.rows.inset += p.units.grid;
    return true;
  }),
  operator('the other row named first', 'row-first', (p) => {
    const has = (side: string, row: string): boolean =>
      p.bondPads.some((b) => b.side === side && b.row === row);
    // A side that a named row begins with the other one already would now begin as the rules say.
    const usual = p.sides.filter(({ side }) => {
      const pads = p.bondPads.filter((b) => b.side === side);
      const at = (b: { x: number; y: number }): number =>
        side === 'left' ? -b.y : side === 'bottom' ? b.x : side === 'right' ? b.y : -b.x;
      const first = pads.sort((a, b) => at(a) - at(b))[0];
      return has(side, 'inner') && has(side, 'outer') && first?.row === p.rules.rows.first;
    });
    if (usual.length === 0) return false;
    p.rules.rows.first = p.rules.rows.first === 'outer' ? 'inner' : 'outer';
    return true;
  }),
  operator('another number of rows over circuit', 'pad-row', (p) => {
    if (!p.sides.some((s) => s.style === 'over-circuit' && s.bondPads > 0)) return false;
    p.rules.rows.overCircuit = p.rules.rows.overCircuit === 1 ? 2 : 1;
    return true;
  }),
  operator('stems of another width asked for', 'stem-shape', (p) => {
    if (p.stems.length === 0) return false;
    p.rules.stems.width += 2 * p.units.grid;
    return true;
  }),
  operator('stems of other layers asked for', 'stem-layers', (p) => {
    if (p.stems.length === 0) return false;
    p.rules.stems.layers = ['M1', 'M2'];
    return true;
  }),
  operator('a side of another style', 'pad-in-cell', (p, dice) => {
    const side = dice.of(p.sides.filter((s) => s.bondPads > 0));
    if (side === undefined) return false;
    side.style = side.style === 'in-cell' ? 'over-circuit' : 'in-cell';
    return true;
  }),
  operator('a wider die', 'row-place', (p) => {
    p.die.width += p.units.grid;
  }),
  operator('a lower die', 'row-place', (p) => {
    p.die.height -= p.units.grid;
  }),
  operator('a core moved by one grid step', 'core', (p, dice) => {
    p.core[dice.of(['x', 'y', 'width', 'height'] as const) ?? 'x'] += p.units.grid;
  }),
  operator('a core with another clearance', 'core', (p) => {
    p.rules.core.clearance += p.units.grid;
  }),
  operator('another grid', 'off-grid', (p) => {
    p.units.grid = 0.07;
  }),
  operator('a grid without an exact half', 'grid-step', (p) => {
    p.units.grid = 0.000003;
  }),
  operator('a side listed twice', 'sides', (p, dice) => {
    const side = dice.of(p.sides);
    if (side === undefined) return false;
    p.sides.push(structuredClone(side));
    return true;
  }),
  operator('a side not listed', 'sides', (p, dice) => {
    p.sides.splice(dice.below(4), 1);
  }),
  operator('a side of another length', 'sides', (p, dice) => {
    const side = dice.of(p.sides);
    if (side === undefined) return false;
    side.length += p.units.grid;
    return true;
  }),
  operator('a side with another count or filled length', 'counts', (p, dice) => {
    const side = dice.of(p.sides);
    if (side === undefined) return false;
    side[dice.of(['cells', 'bondPads', 'filled'] as const) ?? 'cells']++;
    return true;
  }),
  operator('a summary with another count', 'summary', (p) => {
    p.summary.roles.filler = (p.summary.roles.filler ?? 0) + 1;
  }),
  operator('a summary with another pitch', 'summary', (p, dice) => {
    const side = dice.of(p.summary.pitches);
    if (side === undefined) return false;
    side.least = (side.least ?? 0) + 1;
    return true;
  }),
  operator('a summary with another area', 'summary', (p) => {
    p.summary.area.die++;
  }),
  operator('a numbering that starts elsewhere', 'numbering', (p) => {
    const { start } = p.numbering;
    if (p.bondPads.filter((b) => b.side === start.side).length < 2) return false;
    start.end = start.end === 'first' ? 'last' : 'first';
    return true;
  }),
  operator('a numbering in the other direction', 'numbering', (p) => {
    p.numbering.direction = p.numbering.direction === 'clockwise' ? 'counter-clockwise' : 'clockwise';
  }),
  operator('pins that must be neighbours, with others between', 'pins-together', (p, dice) => {
    const side = dice.of(p.sides.filter((s) => s.bondPads > 4))?.side;
    const pads = p.bondPads.filter((b) => b.side === side);
    const single = pads.filter((x) => p.bondPads.every((y) => y === x || y.pin !== x.pin));
    const a = single[0];
    const b = single.find((x) => a !== undefined && Math.abs(pads.indexOf(x) - pads.indexOf(a)) > 2);
    if (a === undefined || b === undefined) return false;
    p.rules.neighbours.push({ kind: 'together', pins: [a.pin, b.pin] });
    return true;
  }),
  operator('pins that must be neighbours, on two sides', 'pins-together', (p) => {
    const single = p.bondPads.filter((x) => p.bondPads.every((y) => y === x || y.pin !== x.pin));
    const [a, b] = [single[0], single.find((x) => x.side !== single[0]?.side)];
    if (a === undefined || b === undefined) return false;
    p.rules.neighbours.push({ kind: 'together', pins: [a.pin, b.pin] });
    return true;
  }),
  operator('groups that must keep apart, but do not', 'pins-apart', (p, dice) => {
    const [a, b] = [dice.of(p.bondPads), dice.of(p.bondPads)];
    if (a === undefined || b === undefined || a === b) return false;
    const distance = Math.ceil(Math.hypot(a.x - b.x, a.y - b.y)) + 1;
    p.rules.neighbours.push({ kind: 'apart', pins: [a.pin], from: [b.pin], distance });
    return true;
  }),
  operator('a supply without its ground beside it', 'supply-beside-ground', (p) => {
    if (!p.nets.some((n) => n.name === 'hvdd')) return false;
    p.rules.neighbours.push({ kind: 'beside-ground', nets: ['hvdd', 'vddio'] });
    return true;
  }),
  operator('too many signals between two grounds', 'signals-between-grounds', (p) => {
    if (!p.bondPads.some((b) => p.nets.some((n) => n.name === b.net && n.kind === 'signal'))) return false;
    p.rules.neighbours.push({
      kind: 'signals-between-grounds',
      most: 0,
      sections: p.sections.map((s) => s.name),
    });
    return true;
  }),
  operator('a neighbour rule that names nothing', 'neighbour-rule-empty', (p) => {
    p.rules.neighbours.push({ kind: 'together', pins: [] });
  }),
  operator('a neighbour rule that one pin cannot break', 'neighbour-rule-empty', (p, dice) => {
    const pin = dice.of(p.bondPads)?.pin;
    if (pin !== undefined) p.rules.neighbours.push({ kind: 'together', pins: [pin] });
    return pin !== undefined;
  }),
  operator('a supply asked for beside its ground that is none', 'unknown-name', (p, dice) => {
    const net = dice.of(p.nets.filter((n) => n.kind !== 'supply'))?.name;
    if (net !== undefined) p.rules.neighbours.push({ kind: 'beside-ground', nets: [net] });
    return net !== undefined;
  }),
  operator('a neighbour rule for a pin that there is not', 'unknown-name', (p) => {
    p.rules.neighbours.push({ kind: 'together', pins: ['nowhere'] });
  }),
  operator('a neighbour rule for a net or section that there is not', 'unknown-name', (p, dice) => {
    if (dice.below(2) === 0) p.rules.neighbours.push({ kind: 'beside-ground', nets: ['nowhere'] });
    else p.rules.neighbours.push({ kind: 'signals-between-grounds', most: 99, sections: ['nowhere'] });
  }),
  operator('a severity for a rule that there is not', 'unknown-rule', (p) => {
    p.rules.severities['pad-pich'] = 'note';
  }),
  operator('an error made a note for everything at once', 'severity-lowered', (p, dice) => {
    const rule = dice.of(['pad-pitch', 'rail-short', 'pin-count', 'severity-lowered', 'crowded']);
    p.rules.severities[rule ?? 'pad-pitch'] = dice.below(2) === 0 ? 'note' : 'warning';
  }),
  operator('a broken rule made a note', 'pad-pitch', (p) => {
    p.rules.pads.pitch = Math.min(...pitches(p)) + p.units.grid;
    p.rules.severities['pad-pitch'] = 'note';
  }),
  operator('a warning made a note', 'severity-set', (p) => {
    p.rules.severities.summary = 'note';
  }),
  operator('a broken rule waived', 'waiver-used', (p) => {
    p.rules.core.width = p.die.width;
    p.rules.waivers.push({ rule: 'core-fits', items: ['core'], reason: 'known' });
  }),
  operator('a waiver of a rule that there is not', 'unknown-rule', (p) => {
    p.rules.waivers.push({ rule: 'pad-pich', items: ['P1'], reason: 'a slip of the pen' });
  }),
  operator('a waiver that applies to nothing', 'waiver-idle', (p) => {
    p.rules.waivers.push({ rule: 'pad-pitch', items: ['P1', 'P2'], reason: 'no longer so' });
  }),
  operator('a waiver for one of two items only', 'pad-pitch', (p) => {
    p.rules.pads.pitch = Math.min(...pitches(p)) + p.units.grid;
    p.rules.waivers.push({
      rule: 'pad-pitch',
      items: p.bondPads.slice(0, 1).map((b) => b.pin),
      reason: 'half',
    });
  }),
  operator('a side with bond pads outside called over circuit', 'row-place', (p, dice) => {
    const side = dice.of(p.sides.filter((s) => ['inline', 'staggered'].includes(styleOf(p, s.side) ?? '')));
    if (side === undefined || side.bondPads === 0) return false;
    side.style = 'over-circuit';
    return true;
  }),
  operator('a name with a sign that cannot be seen', 'name-unseen', (p, dice) => {
    const sign = dice.of(['\u200b', '\u202e', '\ud800', '\u2800', '\u00a0', '\u0007', '\u3164', '\u00ad']);
    const named = dice.of([...p.cells, ...p.nets, ...p.sections, ...p.footprints, ...(p.pins ?? [])]);
    if (named === undefined) return false;
    named.name = `${named.name.slice(0, 1)}${sign}${named.name.slice(1)}`;
    return true;
  }),
  operator('a net whose name looks like that of another', 'names-alike', (p, dice) => {
    const net = dice.of(p.nets);
    if (net === undefined) return false;
    const wide = net.name.replaceAll(/[!-~]/g, (sign) => String.fromCodePoint(sign.charCodeAt(0) + 0xfee0));
    if (wide === net.name) return false;
    p.nets.push({ ...net, name: wide });
    return true;
  }),
  operator('a cell whose name is another in letters of another alphabet', 'names-alike', (p, dice) => {
    const [a, b] = [dice.of(p.cells), dice.of(p.cells)];
    if (a === undefined || b === undefined || a === b) return false;
    const greek = b.name.replace(/[aoAOEIMNTX]/, (letter) => {
      const at = 'aoAOEIMNTX'.indexOf(letter);
      return '\u0430\u03bf\u0391\u039f\u0415\u0406\u041c\u039d\u0422\u03a7'.charAt(at);
    });
    if (greek === b.name) return false;
    a.name = greek;
    return true;
  }),
  operator('a cell whose name differs by a sign that cannot be seen', 'names-alike', (p, dice) => {
    const [a, b] = [dice.of(p.cells), dice.of(p.cells)];
    if (a === undefined || b === undefined || a === b) return false;
    a.name = `${b.name}\u200d`;
    return true;
  }),
  operator('another format', 'reader: not-a-placement', (p) => {
    Reflect.set(p, 'format', 'something-else');
  }),
  operator('another version', 'reader: other-version', (p) => {
    Reflect.set(p, 'version', 2);
  }),
  operator('a field missing', 'reader: missing-field', (p, dice) => {
    const cell = dice.of<object>([
      p.rules,
      p.die,
      ...p.cells,
      ...p.bondPads,
      ...p.stems,
      ...p.rails,
      ...p.footprints,
      ...p.nets,
    ]);
    const optional = ['pins', 'tied', 'shift', 'signals', 'electrical', 'rating', 'straps'];
    const key = dice.of(Object.keys(cell ?? {}).filter((k) => !optional.includes(k)));
    if (cell === undefined || key === undefined) return false;
    Reflect.deleteProperty(cell, key);
    return true;
  }),
  operator('a number that is infinite', 'reader: wrong-field', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    // JSON has no infinity, but 1e999 reads as one: see how the harness writes it.
    cell.x = Number.POSITIVE_INFINITY;
    return true;
  }),
  operator('a number that is huge', 'outside-die', (p, dice) => {
    const cell = dice.of(p.cells);
    if (cell === undefined) return false;
    cell[dice.below(2) === 0 ? 'x' : 'y'] = 1e300;
    return true;
  }),
  operator('a thing that lies more than a metre away', 'too-far', (p, dice) => {
    const thing = dice.of([...p.cells, ...p.bondPads, ...p.stems, ...(p.package?.fingers ?? [])]);
    if (thing === undefined) return false;
    thing[dice.below(2) === 0 ? 'x' : 'y'] = dice.of([2e6, -2e6, 1e12, 1e300]) ?? 2e6;
    return true;
  }),
  operator('a length that is huge', 'inexact-length', (p, dice) => {
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    pad.width = 1e300;
    return true;
  }),
  operator('a width of zero or less', 'reader: wrong-field', (p, dice) => {
    const shape = dice.of([...p.cells, ...p.bondPads, p.die]);
    if (shape === undefined) return false;
    shape.width = -dice.below(2);
    return true;
  }),
  operator('a value of another type', 'reader: wrong-field', (p, dice) =>
    scramble(p, dice.below, (old) => dice.of(WRONG.filter((w) => kind(w) !== kind(old) && !(w === null)))),
  ),
];
