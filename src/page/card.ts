/** What the chosen thing is, in full, with the ways on from it. */
import { button, type Child, el } from './dom.ts';
import {
  findingOf,
  findingsAbout,
  type Model,
  type Neighbour,
  nameOf,
  neighboursOf,
  railOf,
  railsOfNet,
  sectionOf,
  thingsNamed,
} from './model.ts';
import { counted, exact, um } from './numbers.ts';
import type { Choose } from './table.ts';
import { same, type Thing } from './thing.ts';

export interface CardActs {
  readonly choose: Choose;
  readonly light: (thing: Thing | undefined) => void;
  readonly lit: Thing | undefined;
  readonly measureFrom: (thing: Thing) => void;
  readonly close: () => void;
}

type Fact = readonly [name: string, ...value: Child[]];

export function cardOf(model: Model, thing: Thing, acts: CardActs): HTMLElement {
  const facts = factsOf(model, thing, acts);
  const title = nameOf(model, thing);
  return el(
    'div',
    { class: 'card' },
    el(
      'div',
      { class: 'card-head' },
      el('h2', {}, title.charAt(0).toUpperCase() + title.slice(1)),
      button('Close', acts.close, { class: 'quiet', 'aria-label': `Close ${title}` }),
    ),
    el('p', { class: 'acts' }, ...actsOf(model, thing, acts)),
    el(
      'dl',
      {},
      ...facts.map(([name, ...value]) => el('div', {}, el('dt', {}, name), el('dd', {}, ...value))),
    ),
  );
}

/** Buttons that light what belongs to the thing along the ring. */
function actsOf(model: Model, thing: Thing, acts: CardActs): readonly HTMLElement[] {
  const light = (target: Thing): HTMLElement => {
    const on = same(acts.lit, target);
    return button(`Light ${nameOf(model, target)}`, () => acts.light(on ? undefined : target), {
      'aria-pressed': String(on),
    });
  };
  const measureFrom = button('Measure from here', () => acts.measureFrom(thing));
  switch (thing.kind) {
    case 'pad': {
      const pad = model.pads.get(thing.number);
      if (pad === undefined) return [];
      const section = sectionOf(model, pad);
      return [
        light({ kind: 'net', name: pad.net }),
        ...(section === undefined ? [] : [light({ kind: 'section', name: section })]),
        measureFrom,
      ];
    }
    case 'cell': {
      const section = model.cells.get(thing.name)?.section;
      return [...(section == null ? [] : [light({ kind: 'section', name: section })]), measureFrom];
    }
    case 'finding':
      return [];
    default:
      return [light(thing)];
  }
}

function factsOf(model: Model, thing: Thing, { choose }: CardActs): readonly Fact[] {
  const link = (target: Thing, text = nameOf(model, target)): HTMLElement =>
    button(text, () => choose(target), { class: 'link' });
  const links = (targets: readonly Thing[]): readonly Child[] =>
    targets.flatMap((target, i) => (i === 0 ? [link(target)] : [', ', link(target)]));
  const about = (names: readonly string[]): readonly Fact[] => {
    const found = findingsAbout(model, names);
    return found.length === 0
      ? []
      : [['findings', ...links(found.map(({ number }): Thing => ({ kind: 'finding', number })))]];
  };
  switch (thing.kind) {
    case 'pad':
      return padFacts(model, thing.number, link, about);
    case 'cell':
      return cellFacts(model, thing.name, link, links, about);
    case 'net':
      return [
        ['kind', model.kinds.get(thing.name) ?? 'signal'],
        [
          'pads',
          ...links(
            (model.padsOfNet.get(thing.name) ?? []).map(({ number }): Thing => ({ kind: 'pad', number })),
          ),
        ],
        ['rails', ...links(railsOfNet(model, thing.name).map((at): Thing => ({ kind: 'rail', at })))],
      ];
    case 'section': {
      const section = model.placement.sections.find(({ name }) => name === thing.name);
      return [
        ['cells', String(model.placement.cells.filter((cell) => cell.section === thing.name).length)],
        ...Object.entries(section?.lanes ?? {}).map(
          ([lane, net]): Fact => [`lane ${lane}`, link({ kind: 'net', name: net }, net)],
        ),
        ['pairs', (section?.pairs ?? []).map(({ supply, ground }) => `${supply} with ${ground}`).join(', ')],
      ];
    }
    case 'rail': {
      const rail = railOf(model, thing.at);
      if (rail === undefined) return [];
      return [
        ['net', link({ kind: 'net', name: rail.net }, rail.net)],
        ['run', rail.closed ? 'a closed loop' : 'open, between two cuts'],
        ['layers', [...new Set(rail.rectangles.map(({ layer }) => layer))].join(', ')],
        ['through', counted(rail.cells, 'cell')],
        [
          'fed by',
          ...(rail.supplies.length === 0
            ? ['nothing']
            : links(rail.supplies.map((name): Thing => ({ kind: 'cell', name })))),
        ],
      ];
    }
    case 'finding': {
      const finding = findingOf(model, thing.number);
      if (finding === undefined) return [];
      return [
        ['what', finding.message],
        ['rule', finding.rule],
        [
          'severity',
          finding.waived === undefined ? finding.severity : `${finding.severity}, waived: ${finding.waived}`,
        ],
        [
          'concerns',
          ...finding.items.flatMap((item, i): readonly Child[] => {
            const [target] = thingsNamed(model, [item]);
            return [i === 0 ? '' : ', ', target === undefined ? item : link(target)];
          }),
        ],
      ];
    }
  }
}

type Link = (target: Thing, text?: string) => HTMLElement;

function padFacts(
  model: Model,
  number: number,
  link: Link,
  about: (names: readonly string[]) => readonly Fact[],
): readonly Fact[] {
  const pad = model.pads.get(number);
  if (pad === undefined) return [];
  const section = sectionOf(model, pad);
  const near = neighboursOf(model, pad);
  const told = (list: readonly Neighbour[]): readonly Child[] =>
    list.flatMap(({ pad: other, distance }, i) => [
      ...(i === 0 ? [] : [', ']),
      `${um(distance)} to `,
      link({ kind: 'pad', number: other.number }),
    ]);
  const bond = model.placement.package?.bonds.find(({ bondPad }) => bondPad === number);
  return [
    ['pin', pad.pin],
    ['net', link({ kind: 'net', name: pad.net }, pad.net), ` (${model.kinds.get(pad.net) ?? 'signal'})`],
    ['side', pad.row === 'single' ? pad.side : `${pad.side}, ${pad.row} row`],
    ['centre', `x ${um(pad.x)}, y ${um(pad.y)}`],
    ['metal', `${exact(pad.width)} × ${um(pad.height)}`],
    ['opening', `${exact(pad.opening.width)} × ${um(pad.opening.height)}`],
    ['pitch in its row', ...told(near.row)],
    ...(near.other.length === 0 ? [] : [['stagger to the other row', ...told(near.other)] as const]),
    ['cell', link({ kind: 'cell', name: pad.cell }, pad.cell), `, landing ${pad.landing}`],
    ...(section === undefined
      ? []
      : [['section', link({ kind: 'section', name: section }, section)] as const]),
    ...(bond === undefined
      ? []
      : [['bonded to', bond.finger === null ? 'the paddle' : `finger ${bond.finger}`] as const]),
    ...about([pad.pin, pad.cell]),
  ];
}

function cellFacts(
  model: Model,
  name: string,
  link: Link,
  links: (targets: readonly Thing[]) => readonly Child[],
  about: (names: readonly string[]) => readonly Fact[],
): readonly Fact[] {
  const cell = model.cells.get(name);
  if (cell === undefined) return [];
  const pads = model.padsOfCell.get(name) ?? [];
  const parting = model.placement.partings.find((one) => one.cell === name);
  return [
    ['footprint', cell.footprint],
    ['role', cell.role],
    ['side', cell.side ?? 'corner'],
    [
      'outline',
      `x ${exact(cell.x)} to ${um(cell.x + cell.width)}, y ${exact(cell.y)} to ${um(cell.y + cell.height)}`,
    ],
    ['size', `${exact(cell.width)} × ${um(cell.height)}, as placed`],
    ['turned', `${cell.rotation}°${cell.mirrored ? ', mirrored first' : ''}`],
    ['origin', `x ${um(cell.origin.x)}, y ${um(cell.origin.y)}`],
    ...(cell.section === null
      ? []
      : [['section', link({ kind: 'section', name: cell.section }, cell.section)] as const]),
    ...(pads.length === 0
      ? []
      : [['pads', ...links(pads.map(({ number }): Thing => ({ kind: 'pad', number })))] as const]),
    ...(parting === undefined
      ? []
      : [
          [
            'parts',
            `${parting.between.join(' from ')}: cuts ${parting.lanes.join(', ') || 'no lane'}`,
          ] as const,
        ]),
    ...about([name, ...(cell.pins ?? [])]),
  ];
}
