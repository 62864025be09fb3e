/** Corruptions of rails, partings, nets and sections. */
import { drop, footprintOf, type Operator, operator } from './operator.ts';

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
  operator('a plain cell that cuts a strip while the lane goes on in another', 'strip-cut', (p, dice) => {
    const used = new Set(p.cells.map((c) => c.footprint));
    const f = dice.of(
      p.footprints.filter(
        (x) =>
          x.role !== 'break' &&
          used.has(x.name) &&
          x.lanes.every((l) => l.strips.every((s) => s.carry === 'through')),
      ),
    );
    const strips = dice.of(f?.lanes ?? [])?.strips;
    const model = strips?.[0];
    if (strips === undefined || model === undefined) return false;
    strips.push({ ...model, layer: 'M99', carry: 'cut' });
    return true;
  }),
  operator('strips off the grid', 'off-grid', (p, dice) => {
    const rectangle = dice.of(dice.of(p.rails)?.rectangles ?? []);
    if (rectangle === undefined) return false;
    rectangle.width += p.units.grid / 2;
    return true;
  }),
];
