/** Names and numbers: each means one thing, and whatever is named is there. */
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { hit, hitAt } from '../say.ts';
import type { PadView, SectionView, View } from '../view.ts';
import { eachCell, eachPad, eachStem, joined } from './each.ts';
import { doubleReferences, idleLayers, unknownReferences } from './references.ts';

/** The names that come more than once. */
function doubles(names: readonly string[]): readonly string[] {
  const twice = new Set<string>();
  // Most lists are short, and few lists have doubles.
  if (names.length < 32)
    for (let i = 1; i < names.length; i++) {
      const name = names[i];
      if (name !== undefined && names.indexOf(name) < i) twice.add(name);
    }
  else {
    const seen = new Set<string>();
    for (const name of names) {
      if (seen.has(name)) twice.add(name);
      else seen.add(name);
    }
  }
  return [...twice];
}

const netNames = once(({ placement }): ReadonlySet<string> => new Set(placement.nets.map((n) => n.name)));

/** The first bond pad of each pin. */
const padOfPin = once(({ pads }): ReadonlyMap<string, PadView> => {
  const found = new Map<string, PadView>();
  for (const p of pads) if (!found.has(p.pad.pin)) found.set(p.pad.pin, p);
  return found;
});

function duplicateNames(view: View): readonly Hit[] {
  const { placement, cells, cellNamed } = view;
  const hits: Hit[] = [];
  const look = (kind: string, list: readonly { readonly name: string }[]): void => {
    for (const name of doubles(list.map((item) => item.name)))
      hits.push(hit(`two ${kind} are named "${name}"`, name));
  };
  if (cellNamed.size < cells.length) look('cells', placement.cells);
  look('footprints', placement.footprints);
  look('sections', placement.sections);
  look('kinds of bond pad', placement.rules.pads.kinds ?? []);
  if (placement.package !== undefined) look('fingers', placement.package.fingers);
  if (netNames(view).size < placement.nets.length) look('nets', placement.nets);
  for (const f of placement.footprints) {
    for (const name of doubles(f.landings.map((l) => l.name)))
      hits.push(hit(`footprint "${f.name}" has two landings named "${name}"`, f.name, name));
    for (const name of doubles((f.signals ?? []).map((one) => one.name)))
      hits.push(hit(`footprint "${f.name}" has two signals named "${name}"`, f.name, name));
    for (const lane of doubles(f.lanes.map((l) => l.lane)))
      hits.push(hit(`footprint "${f.name}" lists lane "${lane}" twice`, f.name, lane));
  }
  return hits;
}

function duplicateNumbers({ placement, pads, padNumbered }: View): readonly Hit[] {
  if (pads.every((p) => padNumbered(p.pad.number) === p)) return [];
  const pins = new Map<number, string[]>();
  for (const p of placement.bondPads) {
    const own = pins.get(p.number);
    if (own === undefined) pins.set(p.number, [p.pin]);
    else own.push(p.pin);
  }
  return [...pins]
    .filter(([, own]) => own.length > 1)
    .map(([number, own]) =>
      hit(`bond pads of pins ${own.slice(0, 4).join(', ')} bear the one number ${number}`, ...own),
    );
}

/** Several supply pads of one net may share a pin name; any other pin is one pad in one cell. */
function duplicatePins(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const first = padOfPin(view);
  if (first.size < view.pads.length)
    for (const p of view.pads) {
      const before = first.get(p.pad.pin) ?? p;
      if (before !== p && (!feeds(p) || !feeds(before) || p.pad.net !== before.pad.net))
        hits.push(hitAt(p, `two bond pads belong to pin "${p.pad.pin}"`, p.pad.pin));
    }
  const listed = new Map<string, string>();
  for (const c of view.cells) {
    const { pins } = c.cell;
    if (pins === undefined) continue;
    for (let k = 0; k < pins.length; k++) {
      const pin = pins[k];
      if (pin === undefined || c.pads[k]?.pad.pin === pin || first.has(pin)) continue;
      const before = listed.get(pin);
      listed.set(pin, c.name);
      if (before !== undefined)
        hits.push(hit(`cells "${before}" and "${c.name}" both list pin "${pin}"`, before, c.name));
    }
  }
  return hits;
}

/** Whether a bond pad feeds a lane. */
const feeds = (p: PadView): boolean => (p.cell?.kind?.landings[p.landing]?.feeds.length ?? 0) > 0;

const unknownNames = joined(
  eachCell((c) => {
    if (c.kind !== null && (c.section !== null || c.cell.section === null)) return undefined;
    const said: Hit[] = [];
    if (c.kind === null)
      said.push(
        hitAt(c, `cell "${c.name}" is of footprint "${c.cell.footprint}", which is not listed`, c.name),
      );
    if (c.cell.section !== null && c.section === null)
      said.push(hitAt(c, `cell "${c.name}" is in section "${c.cell.section}", which is not listed`, c.name));
    return said;
  }),
  eachPad((p, view) => {
    const { pin, cell, landing, net } = p.pad;
    if (p.landing >= 0 && netNames(view).has(net)) return undefined;
    const said: Hit[] = [];
    if (p.cell === null)
      said.push(hitAt(p, `the bond pad of pin "${pin}" belongs to cell "${cell}", which is not placed`, pin));
    else if (p.landing < 0 && p.cell.kind !== null)
      said.push(hitAt(p, `pin "${pin}" joins landing "${landing}", which cell "${cell}" does not have`, pin));
    if (!netNames(view).has(net))
      said.push(hitAt(p, `pin "${pin}" is on net "${net}", which is not listed`, pin));
    return said;
  }),
  eachStem((s) =>
    s.pad === null
      ? hitAt(s, `a stem leads to bond pad ${s.stem.bondPad}, which is not there`, String(s.stem.bondPad))
      : undefined,
  ),
  unknownInSections,
  unknownInFootprints,
  unknownInRules,
  unknownReferences,
);

function unknownInSections(view: View): readonly Hit[] {
  const { placement } = view;
  const nets = netNames(view);
  const hits: Hit[] = [];
  for (const section of placement.sections)
    for (const [lane, net] of Object.entries(section.lanes))
      if (!nets.has(net))
        hits.push(
          hit(`section "${section.name}" puts net "${net}", which is not listed, on ${lane}`, section.name),
        );
  return hits;
}

function unknownInFootprints({ placement, kindNamed }: View): readonly Hit[] {
  const hits: Hit[] = [];
  const known = new Set<string>();
  for (const section of placement.sections) for (const lane of Object.keys(section.lanes)) known.add(lane);
  for (const f of placement.footprints) for (const { lane } of f.lanes) known.add(lane);
  for (const f of placement.footprints) {
    for (const name of f.needs)
      if (!kindNamed.has(name))
        hits.push(hit(`footprint "${f.name}" speaks of footprint "${name}", which is not listed`, f.name));
    const lanes = new Set([
      ...f.ties.flat(),
      ...f.landings.flatMap((l) => l.feeds),
      ...f.clamps.flatMap((pair) => [pair.supply, pair.ground]),
      ...f.diodes,
      ...(f.straps ?? []).map((strap) => strap.lane),
      ...[f.electrical?.drives?.supply, f.electrical?.drives?.ground].filter((lane) => lane != null),
    ]);
    for (const lane of lanes)
      if (!known.has(lane))
        hits.push(hit(`footprint "${f.name}" joins lane "${lane}", which nothing else has`, f.name));
  }
  return hits;
}

function unknownInRules({ placement, sections, sectionNamed }: View): readonly Hit[] {
  const { neighbours } = placement.rules;
  if (neighbours.length === 0) return [];
  const hits: Hit[] = [];
  const pins = new Set(placement.bondPads.map((p) => p.pin));
  const supplies = new Set(sections.flatMap((s) => s.pairs.flatMap((pair) => s.nets.get(pair.supply) ?? [])));
  for (const rule of neighbours) {
    const named =
      rule.kind === 'together' ? rule.pins : rule.kind === 'apart' ? [...rule.pins, ...rule.from] : [];
    for (const pin of named)
      if (!pins.has(pin))
        hits.push(hit(`the neighbour rule "${rule.kind}" names pin "${pin}", which has no bond pad`, pin));
    if (rule.kind === 'beside-ground')
      for (const net of rule.nets)
        if (!supplies.has(net))
          hits.push(
            hit(
              `the neighbour rule "${rule.kind}" names net "${net}", which no section has as a supply`,
              net,
            ),
          );
    if (rule.kind === 'signals-between-grounds')
      for (const name of rule.sections)
        if (!sectionNamed.has(name))
          hits.push(
            hit(`the neighbour rule "${rule.kind}" names section "${name}", which is not listed`, name),
          );
  }
  return hits;
}

/** Inputs toward the core that are held at a constant. */
const tiedSignals = eachCell((c) => {
  if (c.cell.tied === undefined || c.kind === null) return undefined;
  const signals = new Map(c.kind.footprint.signals?.map((s) => [s.name, s.direction]));
  return Object.keys(c.cell.tied).flatMap((name) => {
    const direction = signals.get(name);
    if (direction === undefined)
      return [hitAt(c, `cell "${c.name}" holds "${name}", which its footprint does not list`, c.name)];
    return direction === 'output'
      ? [hitAt(c, `cell "${c.name}" holds "${name}", which is an output of it`, c.name)]
      : [];
  });
});

/** Nets and sections that are listed and that nothing is on or in. */
function unused({ placement, sections, cells }: View): readonly Hit[] {
  const nets = new Set(placement.bondPads.map((p) => p.net));
  for (const section of placement.sections) for (const net of Object.values(section.lanes)) nets.add(net);
  const used = new Set<SectionView>();
  let last: SectionView | null = null;
  for (const { section } of cells) {
    if (section !== null && section !== last) used.add(section);
    last = section;
  }
  return [
    ...placement.nets
      .filter((net) => !nets.has(net.name))
      .map((net) => hit(`net "${net.name}" is listed, but no lane and no bond pad is on it`, net.name)),
    ...sections
      .filter((section) => !used.has(section))
      .map((section) => hit(`section "${section.name}" is listed, but no cell is in it`, section.name)),
  ];
}

export const NAME_RULES: readonly Rule[] = [
  {
    name: 'duplicate-name',
    severity: 'error',
    protects:
      'That a name means one cell, footprint, section, net, landing, lane, output or layer, for scripts and people alike.',
    mend: 'Rename one of the two wherever it is spoken of.',
    run: joined(duplicateNames, doubleReferences),
  },
  {
    name: 'duplicate-number',
    severity: 'error',
    protects: 'That a bond-pad number leads the assembly house to one pad.',
    mend: 'Number the bond pads anew in ring order.',
    run: duplicateNumbers,
  },
  {
    name: 'duplicate-pin',
    severity: 'error',
    protects: 'That each pin of the chip comes out at one bond pad, supply pads of one net apart.',
    mend: 'Give one of the two its own pin name, such as VDD.2.',
    run: duplicatePins,
  },
  {
    name: 'unknown-name',
    severity: 'error',
    protects:
      'That whatever a cell, pad, stem, section, footprint, rule, demand or package speaks of is in the file.',
    mend: 'Correct the spelling, or add what is missing.',
    run: unknownNames,
  },
  {
    name: 'tied-signal',
    severity: 'error',
    protects: 'That only inputs of a cell, and such as it has, are held at a constant.',
    mend: 'Name an input that the footprint lists, or leave it out of tied.',
    run: tiedSignals,
  },
  {
    name: 'name-unused',
    severity: 'warning',
    protects: 'That a net, section or layer which nothing is on or in is not a slip of the pen for another.',
    mend: 'Take it out of the list, or correct what should be on or in it.',
    run: joined(unused, idleLayers),
  },
];
