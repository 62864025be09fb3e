/** What neighbours owe each other, as the placement's rules ask for it. */
import { padFeeds } from '../arcs.ts';
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { closeBetween, effortFor, sortedAlong } from '../near.ts';
import { once } from '../once.ts';
import { hit, hitAt, hitBetween, names, um } from '../say.ts';
import { isVertical, sideName } from '../turn.ts';
import type { CellView, PadView, SectionView, View } from '../view.ts';
import { powerNets } from './sections.ts';

/** The bond pads of each pin; several supply pads may share one. */
const padsOfPin = once((view): ReadonlyMap<string, readonly PadView[]> => {
  const pads = new Map<string, PadView[]>();
  for (const p of view.ringPads) {
    const own = pads.get(p.pad.pin);
    if (own === undefined) pads.set(p.pad.pin, [p]);
    else own.push(p);
  }
  return pads;
});

/** Where each bond pad stands among those of its side. */
const placeOf = once(
  (view): ReadonlyMap<PadView, number> =>
    new Map(view.sidePads.flatMap((pads) => pads.map((p, i) => [p, i] as const))),
);

/** Of a pin that several supply pads share, any will do. */
function together(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const rule of view.placement.rules.neighbours) {
    if (rule.kind !== 'together') continue;
    const pins = new Set(rule.pins.filter((pin) => padsOfPin(view).has(pin)));
    const [own = [], ...others] = [...pins].map((pin) => padsOfPin(view).get(pin) ?? []);
    const [first] = own;
    if (first === undefined || own.some((p) => standTogether(view, p, pins))) continue;
    const apart = others.some((pads) => pads.every((p) => p.side !== first.side));
    hits.push(
      hitAt(
        first,
        `pins ${names(rule.pins)} must stand side by side, but ${apart ? 'lie on different sides' : 'others stand between them'}`,
        ...rule.pins,
      ),
    );
  }
  return hits;
}

/** Whether the bond pads around one, as far as they are of these pins, are of all of them. */
function standTogether(view: View, pad: PadView, pins: ReadonlySet<string>): boolean {
  const pads = view.sidePads[pad.side] ?? [];
  const at = placeOf(view).get(pad) ?? 0;
  const met = new Set<string>();
  for (const step of [-1, 1])
    for (let i = at; ; i += step) {
      const pin = pads[i]?.pad.pin;
      if (pin === undefined || !pins.has(pin) || met.size === pins.size) break;
      met.add(pin);
    }
  return met.size === pins.size;
}

/** A bond pad's centre as a box without extent. */
const centreOf = (p: PadView) => {
  const [x, y] = [(p.x0 + p.x1) / 2, (p.y0 + p.y1) / 2];
  return { x0: x, x1: x, y0: y, y1: y, pad: p };
};

/** The centres of the bond pads of some pins, side by side and in order along each. */
function centresOf(view: View, pins: readonly string[]) {
  const bySide: ReturnType<typeof centreOf>[][] = [[], [], [], []];
  for (const pin of new Set(pins))
    for (const p of padsOfPin(view).get(pin) ?? []) bySide[p.side]?.push(centreOf(p));
  return bySide.map((centres, side) => sortedAlong(centres, isVertical(side)));
}

const countIn = (lists: readonly { readonly items: readonly unknown[] }[]): number =>
  lists.reduce((sum, { items }) => sum + items.length, 0);

function apart(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  view.placement.rules.neighbours.forEach((rule, i) => {
    if (rule.kind !== 'apart') return;
    const least = whole(rule.distance);
    const [own, others] = [centresOf(view, rule.pins), centresOf(view, rule.from)];
    const effort = effortFor((countIn(own) + countIn(others)) * 8);
    closeBetween(own, others, least, effort, (a, b) => {
      const distance = Math.hypot(a.x0 - b.x0, a.y0 - b.y0);
      if (a.pad !== b.pad && distance < least)
        hits.push(
          hitBetween(
            a,
            b,
            `pins "${a.pad.pad.pin}" and "${b.pad.pad.pin}" are ${um(Math.round(distance))} apart; at least ${um(least)} are asked for`,
            a.pad.pad.pin,
            b.pad.pad.pin,
          ),
        );
    });
    if (effort.left < 0)
      hits.push(
        hit(
          `so many of the pins that are to stand ${um(least)} apart lie near each other that not all were compared`,
          `neighbours[${i}]`,
        ),
      );
  });
  return hits;
}

/** The lanes of a cell's section that its bond pads feed and that carry one of some nets. */
const feedsOneOf = (cell: CellView, nets: ReadonlySet<string>): readonly number[] =>
  [...(cell.section?.nets ?? [])].flatMap(([lane, net]) =>
    nets.has(net) && cell.pads.some((p) => padFeeds(p, lane)) ? [lane] : [],
  );

/** The grounds of lanes, as the pairs of a section have them. */
const groundsOf = (section: SectionView, lanes: readonly number[]): readonly number[] =>
  section.pairs.filter((pair) => lanes.includes(pair.supply)).map((pair) => pair.ground);

function besideGround(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const rules = view.placement.rules.neighbours.filter((rule) => rule.kind === 'beside-ground');
  if (rules.length === 0) return hits;
  const nets = new Set(rules.flatMap((rule) => rule.nets));
  const ring = view.ring.filter((cell) => cell.role !== 'filler');
  ring.forEach((cell, i) => {
    const { section } = cell;
    if (section === null) return;
    const grounds = groundsOf(section, feedsOneOf(cell, nets));
    if (grounds.length === 0) return;
    const beside = [ring[(i + ring.length - 1) % ring.length], ring[(i + 1) % ring.length], cell];
    const wanted = new Set(grounds.flatMap((lane) => section.nets.get(lane) ?? []));
    if (beside.some((other) => other !== undefined && feedsOneOf(other, wanted).length > 0)) return;
    hits.push(
      hitAt(
        cell,
        `supply cell "${cell.name}" has no cell of its ground ${names([...wanted])} as a direct neighbour`,
        cell.name,
      ),
    );
  });
  return hits;
}

/** Bond pads that follow each other in one section; those of a section that is the whole ring close it. */
interface Run {
  readonly section: SectionView;
  readonly pads: PadView[];
  readonly closed: boolean;
}

/** The ring's bond pads as runs of one section, none parted by where the list of the ring begins. */
const sectionRuns = once((view): readonly Run[] => {
  const { ringPads } = view;
  const sectionOf = (i: number): SectionView | null =>
    ringPads.at(i % ringPads.length)?.cell?.section ?? null;
  const start = ringPads.findIndex((_, i) => sectionOf(i) !== sectionOf(i + ringPads.length - 1));
  const runs: Run[] = [];
  let last: Run | undefined;
  for (let k = 0; k < ringPads.length; k++) {
    const pad = ringPads[(Math.max(0, start) + k) % ringPads.length];
    const section = pad?.cell?.section ?? null;
    if (pad === undefined || section === null) last = undefined;
    else {
      if (last?.section !== section) {
        last = { section, pads: [], closed: start < 0 };
        runs.push(last);
      }
      last.pads.push(pad);
    }
  }
  return runs;
});

/** How many signal pads lie between two grounds; those before the first and after the last of an open run too. */
function signalsBetween(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const rule of view.placement.rules.neighbours) {
    if (rule.kind !== 'signals-between-grounds') continue;
    const named = new Set(rule.sections);
    for (const run of sectionRuns(view))
      if (named.has(run.section.name))
        for (const stretch of signalStretches(view, run)) {
          const [from, to] = [stretch[0], stretch[stretch.length - 1]];
          if (stretch.length <= rule.most || from === undefined || to === undefined) continue;
          hits.push(
            hitBetween(
              from,
              to,
              `${stretch.length} signal pads follow each other in section "${run.section.name}" without a ground, from "${from.pad.pin}" to "${to.pad.pin}" on the ${sideName(to.side)} side; at most ${rule.most} may`,
              run.section.name,
              from.pad.pin,
              to.pad.pin,
            ),
          );
        }
  }
  return hits;
}

/** The signal pads of a run between its grounds, and between these and its ends. */
function signalStretches(view: View, { section, pads, closed }: Run): readonly (readonly PadView[])[] {
  const power = powerNets(view);
  const isGround = (p: PadView): boolean => section.pairs.some((pair) => padFeeds(p, pair.ground));
  const first = closed ? pads.findIndex(isGround) : -1;
  const stretches: PadView[][] = [[]];
  for (let k = 0; k < pads.length; k++) {
    const p = pads[(Math.max(0, first) + k) % pads.length];
    if (p === undefined) continue;
    if (isGround(p)) stretches.push([]);
    else if (!power.has(p.pad.net)) stretches[stretches.length - 1]?.push(p);
  }
  return stretches;
}

/** A rule that names nothing, or nothing else beside it, could not be broken. */
const empty = (view: View): readonly Hit[] =>
  view.placement.rules.neighbours.flatMap((rule, i) => {
    const say = (what: string): Hit[] => [
      hit(`the neighbour rule "${rule.kind}" names ${what}`, `neighbours[${i}]`),
    ];
    const named =
      rule.kind === 'together' || rule.kind === 'apart'
        ? rule.pins
        : rule.kind === 'beside-ground'
          ? rule.nets
          : rule.sections;
    const from = rule.kind === 'apart' ? rule.from : named;
    if (named.length === 0 || from.length === 0) return say('nothing');
    return rule.kind === 'together' && new Set(named).size === 1 ? say('one pin only') : [];
  });

export const NEIGHBOUR_RULES: readonly Rule[] = [
  {
    name: 'pins-together',
    severity: 'error',
    protects:
      "That pins which belong together, such as a differential pair or a crystal's two, stand side by side.",
    mend: 'Exchange the pins in the list so that no other lies between.',
    run: together,
  },
  {
    name: 'pins-apart',
    severity: 'error',
    protects: 'That a quiet pin keeps its distance from a strong one.',
    mend: 'Move one group along the ring, or set supply cells between.',
    run: apart,
  },
  {
    name: 'supply-beside-ground',
    severity: 'error',
    protects: 'That supply and ground enter side by side, which keeps the loop of their wires small.',
    mend: 'Set a cell of its ground next to the supply cell.',
    run: besideGround,
  },
  {
    name: 'signals-between-grounds',
    severity: 'error',
    protects: 'That not too many signals rely on one ground for their return.',
    mend: 'Set a further ground cell into the stretch.',
    run: signalsBetween,
  },
  {
    name: 'neighbour-rule-empty',
    severity: 'warning',
    protects: 'That a neighbour rule which checks nothing is not mistaken for one that holds.',
    mend: 'Name the pins, nets or sections, or take the rule out.',
    run: empty,
  },
];
