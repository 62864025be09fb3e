/** Corruptions of rails, partings, nets, sections and footprints. */
import { breaks, type Draft, drop, footprintOf, type Operator, operator } from './operator.ts';

const lanesOf = (p: Draft): string[] => Object.keys(p.sections[0]?.lanes ?? {});

const carrying = (p: Draft) =>
  p.footprints.filter(
    (f) => f.role !== 'break' && f.lanes.length > 0 && p.cells.some((c) => c.footprint === f.name),
  );

export const RAIL_OPERATORS: readonly Operator[] = [
  operator('a rail gone', 'rails', (p, dice) => {
    const rail = dice.of(p.rails);
    if (rail === undefined) return false;
    drop(p.rails, rail);
    return true;
  }),
  operator('a rail doubled', 'rails', (p, dice) => {
    const rail = dice.of(p.rails);
    if (rail === undefined) return false;
    p.rails.push(structuredClone(rail));
    return true;
  }),
  operator('a rail on another net', 'rails', (p, dice) => {
    const rail = dice.of(p.rails);
    if (rail === undefined) return false;
    rail.net = `${rail.net}x`;
    return true;
  }),
  operator('a rail of another lane', 'rails', (p, dice) => {
    const rail = dice.of(p.rails);
    if (rail === undefined) return false;
    rail.lane = 'VX';
    return true;
  }),
  operator('an open rail called closed or the other way round', 'rails', (p, dice) => {
    const rail = dice.of(p.rails);
    if (rail === undefined) return false;
    rail.closed = !rail.closed;
    return true;
  }),
  operator('a supply of a rail gone', 'rails', (p, dice) => {
    const rail = dice.of(p.rails.filter((r) => r.supplies.length > 0));
    if (rail === undefined) return false;
    rail.supplies.splice(dice.below(rail.supplies.length), 1);
    return true;
  }),
  operator('a supply of a rail that is none', 'rails', (p, dice) => {
    const rail = dice.of(p.rails);
    const cell = dice.of(p.cells.filter((c) => c.role === 'filler'));
    if (rail === undefined || cell === undefined) return false;
    rail.supplies.push(cell.name);
    return true;
  }),
  operator('a rectangle of a rail gone', 'rails', (p, dice) => {
    const rail = dice.of(p.rails);
    if (rail === undefined) return false;
    rail.rectangles.splice(dice.below(rail.rectangles.length), 1);
    return true;
  }),
  operator('a rectangle of a rail moved by one grid step', 'rails', (p, dice) => {
    const rectangle = dice.of(dice.of(p.rails)?.rectangles ?? []);
    if (rectangle === undefined) return false;
    rectangle[dice.below(2) === 0 ? 'x' : 'y'] += p.units.grid;
    return true;
  }),
  operator('a rectangle of a rail narrowed', 'rails', (p, dice) => {
    const rectangle = dice.of(dice.of(p.rails)?.rectangles ?? []);
    if (rectangle === undefined) return false;
    rectangle[dice.below(2) === 0 ? 'width' : 'height'] -= p.units.grid;
    return true;
  }),
  operator('a rectangle of a rail on another layer', 'rails', (p, dice) => {
    const rectangle = dice.of(dice.of(p.rails)?.rectangles ?? []);
    if (rectangle === undefined) return false;
    rectangle.layer = 'M1';
    return true;
  }),
  operator('a rail that claims to run through more cells', 'counts', (p, dice) => {
    const rail = dice.of(p.rails);
    if (rail === undefined) return false;
    rail.cells++;
    return true;
  }),
  operator('a parting gone', 'partings', (p, dice) => {
    const parting = dice.of(p.partings);
    if (parting === undefined) return false;
    drop(p.partings, parting);
    return true;
  }),
  operator('a parting doubled', 'partings', (p, dice) => {
    const parting = dice.of(p.partings);
    if (parting === undefined) return false;
    p.partings.push(structuredClone(parting));
    return true;
  }),
  operator('a parting that cuts one lane less', 'partings', (p, dice) => {
    const parting = dice.of(p.partings);
    if (parting === undefined) return false;
    parting.lanes.pop();
    return true;
  }),
  operator('a parting between sections the other way round', 'partings', (p, dice) => {
    const parting = dice.of(p.partings.filter((x) => x.between[0] !== x.between[1]));
    if (parting === undefined) return false;
    parting.between.reverse();
    return true;
  }),
  operator('a parting of a cell that is no break cell', 'partings', (p, dice) => {
    const parting = dice.of(p.partings);
    const cell = dice.of(p.cells.filter((c) => c.role === 'filler'));
    if (parting === undefined || cell === undefined) return false;
    parting.cell = cell.name;
    return true;
  }),
  operator('a net of another kind', 'net-kind', (p, dice) => {
    const net = dice.of(p.nets);
    if (net === undefined) return false;
    net.kind = dice.of((['supply', 'ground', 'signal'] as const).filter((k) => k !== net.kind)) ?? 'signal';
    return true;
  }),
  operator('a net gone from the list', 'unknown-name', (p, dice) => {
    const net = dice.of(p.nets);
    if (net === undefined) return false;
    drop(p.nets, net);
    return true;
  }),
  operator('a net listed twice', 'duplicate-name', (p, dice) => {
    const net = dice.of(p.nets);
    if (net === undefined) return false;
    p.nets.push(structuredClone(net));
    return true;
  }),
  operator('a net listed that nothing is on', 'name-unused', (p) => {
    p.nets.push({ name: 'nowhere', kind: 'signal' });
  }),
  operator('a section listed that nothing is in', 'name-unused', (p, dice) => {
    const section = dice.of(p.sections);
    if (section === undefined) return false;
    p.sections.push({ ...structuredClone(section), name: 'nowhere' });
    return true;
  }),
  operator('a section gone from the list', 'unknown-name', (p, dice) => {
    const section = dice.of(p.sections);
    if (section === undefined) return false;
    drop(p.sections, section);
    return true;
  }),
  operator('a section listed twice', 'duplicate-name', (p, dice) => {
    const section = dice.of(p.sections);
    if (section === undefined) return false;
    p.sections.push(structuredClone(section));
    return true;
  }),
  operator('a section without a net on a lane', 'section-lanes', (p, dice) => {
    const section = dice.of(p.sections);
    const lane = dice.of(Object.keys(section?.lanes ?? {}));
    if (section === undefined || lane === undefined) return false;
    delete section.lanes[lane];
    return true;
  }),
  operator('a section with another net on a lane that it feeds', 'supply-net', (p, dice) => {
    const section = dice.of(p.sections);
    const lane = dice.of(Object.keys(section?.lanes ?? {}));
    const cells = p.cells.filter((c) => c.section === section?.name);
    const fed = cells.some((c) => footprintOf(p, c)?.landings.some((l) => l.feeds.includes(lane ?? '')));
    const net = p.nets.find((n) => n.kind === 'signal');
    if (section === undefined || lane === undefined || !fed || net === undefined) return false;
    section.lanes[lane] = net.name;
    return true;
  }),
  operator('a section on a net that is not listed', 'unknown-name', (p, dice) => {
    const section = dice.of(p.sections);
    const lane = dice.of(Object.keys(section?.lanes ?? {}));
    if (section === undefined || lane === undefined) return false;
    section.lanes[lane] = 'nowhere';
    return true;
  }),
  operator('a pair with supply and ground exchanged', 'net-kind', (p, dice) => {
    const pair = dice.of(p.sections.flatMap((s) => s.pairs));
    if (pair === undefined) return false;
    [pair.supply, pair.ground] = [pair.ground, pair.supply];
    return true;
  }),
  operator('a pair of a lane that the section does not have', 'section-pairs', (p, dice) => {
    const pair = dice.of(p.sections.flatMap((s) => s.pairs));
    if (pair === undefined) return false;
    pair.supply = 'VX';
    return true;
  }),
  operator('all sections on one set of nets', 'break-needless', (p) => {
    const [first] = p.sections;
    if (p.partings.length === 0) return false;
    for (const section of p.sections) section.lanes = structuredClone(first?.lanes ?? {});
    return true;
  }),
  operator('a net that goes on across a break cell which cuts it', 'break-cuts-on', (p, dice) => {
    const parting = dice.of(p.partings.filter((x) => x.between[0] === 'quiet' || x.between[1] === 'drive'));
    const [from, to] = (parting?.between ?? []).map((name) => p.sections.find((s) => s.name === name));
    const lane = parting?.lanes.find((l) => from?.lanes[l] !== to?.lanes[l]);
    if (from === undefined || to === undefined || lane === undefined) return false;
    to.lanes[lane] = from.lanes[lane] ?? '';
    return true;
  }),
  operator('a break cell where the library has a better one', 'break-wide', (p, dice) => {
    const parting = dice.of(
      p.partings.filter((x) => {
        const [from, to] = x.between.map((name) => p.sections.find((s) => s.name === name));
        return x.lanes.some((l) => from?.lanes[l] === to?.lanes[l]);
      }),
    );
    const [from, to] = (parting?.between ?? []).map((name) => p.sections.find((s) => s.name === name));
    const model = p.footprints.find((f) => f.name === 'part_all');
    if (parting === undefined || model === undefined) return false;
    const better = structuredClone(model);
    better.name = 'part_less';
    for (const lane of better.lanes)
      if (from?.lanes[lane.lane] === to?.lanes[lane.lane])
        for (const strip of lane.strips) strip.carry = 'through';
    p.footprints.push(better);
    return true;
  }),
  operator('supplies of a lane that feed nothing', 'arc-unfed', (p, dice) => {
    const lane = dice.of(lanesOf(p)) ?? '';
    for (const f of p.footprints)
      for (const landing of f.landings) if (landing.feeds.includes(lane)) landing.feeds = [];
  }),
  operator('a lane whose strips lie elsewhere in one footprint', 'rail-open', (p, dice) => {
    const lane = dice.of(dice.of(carrying(p))?.lanes ?? []);
    if (lane === undefined) return false;
    for (const strip of lane.strips) [strip.from, strip.to] = [strip.from + 400, strip.to + 400];
    return true;
  }),
  operator('a strip on another layer in one footprint', 'rail-open', (p, dice) => {
    const strip = dice.of(dice.of(dice.of(carrying(p))?.lanes ?? [])?.strips ?? []);
    if (strip === undefined) return false;
    strip.layer = 'M1';
    return true;
  }),
  operator('a lane missing in one footprint', 'rail-open', (p, dice) => {
    const f = dice.of(carrying(p));
    if (f === undefined) return false;
    f.lanes.splice(dice.below(f.lanes.length), 1);
    return true;
  }),
  operator('a strip that ends at one edge of a footprint', 'rail-open', (p, dice) => {
    const strip = dice.of(dice.of(dice.of(carrying(p))?.lanes ?? [])?.strips ?? []);
    if (strip === undefined) return false;
    strip.edges = dice.below(2) === 0 ? 'start' : 'end';
    return true;
  }),
  operator('a strip moved by one grid step in one footprint', 'rail-step', (p, dice) => {
    const strip = dice.of(dice.of(dice.of(carrying(p))?.lanes ?? [])?.strips ?? []);
    if (strip === undefined) return false;
    [strip.from, strip.to] = [strip.from + p.units.grid, strip.to + p.units.grid];
    return true;
  }),
  operator('two lanes exchanged in one footprint', 'rail-short', (p, dice) => {
    const f = dice.of(carrying(p));
    const [a, b] = [f?.lanes[0], f?.lanes[1 + dice.below(3)]];
    if (a === undefined || b === undefined) return false;
    [a.lane, b.lane] = [b.lane, a.lane];
    return true;
  }),
  operator('a lane cut in a cell that is no break cell', 'rail-cut', (p, dice) => {
    const lane = dice.of(dice.of(carrying(p))?.lanes ?? []);
    if (lane === undefined) return false;
    for (const strip of lane.strips) strip.carry = 'cut';
    return true;
  }),
  operator('a footprint that ties two nets', 'tie', (p, dice) => {
    const f = dice.of(carrying(p));
    if (f === undefined) return false;
    f.ties.push(lanesOf(p));
    return true;
  }),
  operator('a landing that feeds two nets', 'tie', (p, dice) => {
    const f = dice.of(carrying(p).filter((x) => x.landings.length > 0));
    if (f === undefined) return false;
    for (const landing of f.landings) landing.feeds = lanesOf(p);
    return true;
  }),
  operator('a library without clamps', 'clamp-missing', (p) => {
    for (const f of p.footprints) f.clamps = [];
  }),
  operator('a demand for more cells a section', 'section-count', (p) => {
    const f = p.footprints.find((x) => x.perSection !== null);
    if (f?.perSection == null) return false;
    f.perSection = { least: p.cells.length, most: null };
    return true;
  }),
  operator('a demand for no such cell', 'section-count', (p) => {
    const f = p.footprints.find((x) => x.perSection !== null && p.cells.some((c) => c.footprint === x.name));
    if (f === undefined) return false;
    f.perSection = { least: 0, most: 0 };
    return true;
  }),
  operator('a cell that needs another which its section lacks', 'section-needs', (p, dice) => {
    const f = dice.of(carrying(p));
    const absent = dice.of(p.footprints.filter((x) => x.role === 'break'));
    if (f === undefined || absent === undefined) return false;
    f.needs = [absent.name];
    return true;
  }),
  operator('a cell that needs one that is not listed', 'unknown-name', (p, dice) => {
    const f = dice.of(p.footprints);
    if (f === undefined) return false;
    f.needs = ['nowhere'];
    return true;
  }),
  operator('a landing that feeds a lane which there is not', 'unknown-name', (p, dice) => {
    const landing = dice.of(p.footprints.flatMap((f) => f.landings));
    if (landing === undefined) return false;
    landing.feeds = ['nowhere'];
    return true;
  }),
  operator('a footprint listed twice', 'duplicate-name', (p, dice) => {
    const f = dice.of(p.footprints);
    if (f === undefined) return false;
    p.footprints.push(structuredClone(f));
    return true;
  }),
  operator('a landing moved by one grid step', 'pad-landing', (p, dice) => {
    const pad = dice.of(p.bondPads);
    const cell = p.cells.find((c) => c.name === pad?.cell);
    const landing = cell && footprintOf(p, cell)?.landings.find((l) => l.name === pad?.landing);
    if (landing === undefined) return false;
    landing.at += p.units.grid;
    return true;
  }),
  operator('a footprint of another width', 'cell-size', (p, dice) => {
    const cell = dice.of(p.cells);
    const f = cell && footprintOf(p, cell);
    if (f === undefined) return false;
    f.width += p.units.grid;
    return true;
  }),
  operator('a footprint with another setback', 'cell-alignment', (p, dice) => {
    const cell = dice.of(p.cells.filter((c) => c.side !== null));
    const f = cell && footprintOf(p, cell);
    if (f === undefined) return false;
    f.setback += p.units.grid;
    return true;
  }),
  operator('a corner cell with a setback', 'footprint', (p) => {
    for (const f of p.footprints) if (f.role === 'corner') f.setback = 5;
  }),
  operator('diodes across a lane that is let through', 'footprint', (p, dice) => {
    const f = dice.of(p.footprints.filter((x) => x.role === 'break'));
    const lane = f?.lanes.find((l) => l.strips.some((s) => s.carry === 'through'));
    if (f === undefined || lane === undefined) return false;
    f.diodes.push(lane.lane);
    return true;
  }),
  operator('a strip whose end lies before its start', 'footprint', (p, dice) => {
    const strip = dice.of(dice.of(dice.of(carrying(p))?.lanes ?? [])?.strips ?? []);
    if (strip === undefined) return false;
    [strip.from, strip.to] = [strip.to, strip.from];
    return true;
  }),
  operator('a footprint that may be turned no way', 'turn-not-allowed', (p, dice) => {
    const cell = dice.of(p.cells);
    const f = cell && footprintOf(p, cell);
    if (f === undefined) return false;
    f.turns = { plain: [], mirrored: [] };
    return true;
  }),
  operator('a footprint drawn for another side', 'cell-turn', (p, dice) => {
    const cell = dice.of(p.cells);
    const f = cell && footprintOf(p, cell);
    if (f === undefined) return false;
    const opposite = { left: 'right', right: 'left', bottom: 'top', top: 'bottom' } as const;
    f.drawnFor = opposite[f.drawnFor];
    return true;
  }),
  operator('fillers that may not stand alone', 'filler-alone', (p) => {
    if (!p.cells.some((c) => c.role === 'filler')) return false;
    for (const f of p.footprints) if (f.role === 'filler') f.standsAlone = false;
    return true;
  }),
  operator('a break cell for which the sections are of one net', 'break-needless', (p, dice) => {
    const cell = dice.of(breaks(p));
    if (cell === undefined) return false;
    const f = footprintOf(p, cell);
    if (f === undefined || f.lanes.length < lanesOf(p).length) return false;
    for (const lane of f.lanes) for (const strip of lane.strips) strip.carry = 'through';
    return true;
  }),
];
