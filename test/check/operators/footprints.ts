/** Corruptions of footprints: what a wrong cell file would bring. */
import { breaks, type Draft, footprintOf, type Operator, operator } from './operator.ts';

const lanesOf = (p: Draft): string[] => Object.keys(p.sections[0]?.lanes ?? {});

const carrying = (p: Draft) =>
  p.footprints.filter(
    (f) => f.role !== 'break' && f.lanes.length > 0 && p.cells.some((c) => c.footprint === f.name),
  );

export const FOOTPRINT_OPERATORS: readonly Operator[] = [
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
    // Beside a break cell a strip may end.
    const cell = dice.of(
      p.cells.filter(
        (c, i) =>
          c.role !== 'break' && [-1, 1].every((d) => p.cells.at((i + d) % p.cells.length)?.role !== 'break'),
      ),
    );
    const f = cell && footprintOf(p, cell);
    const strip = dice.of(dice.of(f?.lanes ?? [])?.strips ?? []);
    if (strip === undefined) return false;
    strip.edges = dice.below(2) === 0 ? 'start' : 'end';
    return true;
  }),
  operator('strips of two lanes that overlap within one footprint', 'footprint', (p, dice) => {
    const lanes = dice.of(carrying(p))?.lanes ?? [];
    const [a, b] = [dice.of(lanes), dice.of(lanes)];
    if (a === undefined || b === undefined || a === b) return false;
    for (const strip of a.strips)
      for (const other of b.strips)
        if (strip.layer === other.layer && strip.to <= other.from) {
          strip.to = other.from + p.units.grid;
          return true;
        }
    return false;
  }),
  operator('a lane that goes on from one edge of a footprint only', 'footprint', (p, dice) => {
    const lane = dice.of(dice.of(carrying(p))?.lanes ?? []);
    if (lane === undefined) return false;
    // To its neighbours nothing looks changed.
    lane.strips = lane.strips.flatMap((strip) => [
      { ...strip, edges: 'start', carry: 'through' },
      { ...strip, edges: 'end', carry: 'cut' },
    ]);
    return lane.strips.length > 0;
  }),
  operator('a strap or a circuit on a lane that there is not', 'unknown-name', (p, dice) => {
    const f = dice.of(p.footprints);
    if (f === undefined) return false;
    if (dice.below(2) === 0) f.straps = [{ lane: 'nowhere', layer: 'M3', at: 5, width: 5, t: 5 }];
    else
      f.electrical = {
        drives: { supply: 'nowhere', ground: null, slope: null },
        clamp: null,
        padDiode: null,
        breakDiode: null,
      };
    return true;
  }),
  operator('a signal or a kind of bond pad listed twice', 'duplicate-name', (p, dice) => {
    const { kinds = [] } = p.rules.pads;
    const signals = dice.of(p.footprints.filter((f) => (f.signals ?? []).length > 0))?.signals ?? [];
    const before = kinds.length + signals.length;
    if (dice.below(2) === 0) kinds.push(...structuredClone(kinds.slice(0, 1)));
    else signals.push(...structuredClone(signals.slice(0, 1)));
    return kinds.length + signals.length > before;
  }),
  operator('a strip moved by one grid step in one footprint', 'rail-step', (p, dice) => {
    const strip = dice.of(dice.of(dice.of(carrying(p))?.lanes ?? [])?.strips ?? []);
    if (strip === undefined) return false;
    [strip.from, strip.to] = [strip.from + p.units.grid, strip.to + p.units.grid];
    return true;
  }),
  operator('two lanes exchanged in one footprint', 'rail-short', (p, dice) => {
    const f = dice.of(carrying(p));
    const cell = p.cells.find((c) => c.footprint === f?.name);
    const nets = p.sections.find((x) => x.name === cell?.section)?.lanes;
    const [a, b] = [dice.of(f?.lanes ?? []), dice.of(f?.lanes ?? [])];
    if (a === undefined || b === undefined || nets?.[a.lane] === nets?.[b.lane]) return false;
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
  operator(
    'a stretch of a section cut off from the cell that each is to have',
    'section-count',
    (p, dice) => {
      const demanded = new Set(p.footprints.filter((f) => (f.perSection?.least ?? 0) > 0).map((f) => f.name));
      const places = p.cells.flatMap((from, i) => {
        if (from.role !== 'filler') return [];
        const rest = p.cells.slice(i + 1);
        const end = rest.findIndex(
          (c) => demanded.has(c.footprint) || c.section !== from.section || c.side !== from.side,
        );
        const to = rest.slice(0, end < 0 ? undefined : end).findLast((c) => c.role === 'filler');
        if (to === undefined) return [];
        const between = p.cells.slice(i + 1, p.cells.indexOf(to));
        return between.some((c) => c.role !== 'filler') ? [[from, to] as const] : [];
      });
      const place = dice.of(places);
      if (place === undefined || demanded.size === 0) return false;
      for (const cell of place) {
        const own = footprintOf(p, cell);
        if (own === undefined) return false;
        const name = `${own.name}-cutting`;
        const lanes = own.lanes.map((lane) => ({
          ...lane,
          strips: lane.strips.map((strip) => ({ ...strip, carry: 'cut' as const })),
        }));
        if (p.footprints.every((f) => f.name !== name))
          p.footprints.push({ ...structuredClone(own), name, role: 'break', lanes });
        cell.footprint = name;
        cell.role = 'break';
        cell.section = null;
      }
      return true;
    },
  ),
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
