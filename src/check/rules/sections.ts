/** Sections and nets: what each lane carries, who feeds it, and what a section must have. */
import { carries, partedBy } from '../arcs.ts';
import type { Hit, Rule } from '../finding.ts';
import { carriesLane, type Kind } from '../kinds.ts';
import { once } from '../once.ts';
import { hit, hitAt, names } from '../say.ts';
import { kindsIn } from '../section-runs.ts';
import type { CellView, PadView, SectionView, View } from '../view.ts';
import { eachCell, eachPad } from './each.ts';

/** The net that a section puts on a lane. */
const netOn = (section: SectionView, lane: number): string | undefined => section.nets.get(lane);

const laneName = (view: View, lane: number): string => view.lanes.names[lane] ?? '';

/** Lanes that a section's cells carry have a net there, and those that have one are carried. */
function lanesNamed(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const [section, kinds] of kindsIn(view)) {
    const bare = new Map<number, Kind>();
    for (const kind of kinds)
      for (const lane of kind.lanes.keys())
        if (netOn(section, lane) === undefined && !bare.has(lane)) bare.set(lane, kind);
    for (const [lane, kind] of bare)
      hits.push(
        hit(
          `section "${section.name}" puts no net on ${laneName(view, lane)}, which its ${kind.footprint.name} carries`,
          section.name,
        ),
      );
    for (const [lane, net] of section.nets)
      if (![...kinds].some((kind) => carriesLane(kind, lane)))
        hits.push(
          hit(
            `section "${section.name}" puts net "${net}" on ${laneName(view, lane)}, which none of its cells carries`,
            section.name,
          ),
        );
  }
  return hits;
}

/** Pairs name lanes of their section and join two nets, each a supply or a ground everywhere. */
function pairs(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const ends = new Map<string, 'supply' | 'ground'>();
  for (const { name, pairs } of view.sections)
    if (pairs.length === 0)
      hits.push(hit(`section "${name}" pairs no supply with a ground, so that no clamp is asked for`, name));
  for (const section of view.sections)
    for (const pair of section.pairs) {
      const [supply, ground] = [netOn(section, pair.supply), netOn(section, pair.ground)];
      const text = `${laneName(view, pair.supply)} and ${laneName(view, pair.ground)}`;
      if (supply === undefined || ground === undefined)
        hits.push(
          hit(`section "${section.name}" pairs ${text}, but puts no net on one of them`, section.name),
        );
      else if (supply === ground)
        hits.push(
          hit(`section "${section.name}" pairs ${text}, which are both on net "${supply}"`, section.name),
        );
      else
        for (const [net, end] of [
          [supply, 'supply'],
          [ground, 'ground'],
        ] as const) {
          const before = ends.get(net);
          if (before === undefined) ends.set(net, end);
          else if (before !== end)
            hits.push(
              hit(
                `net "${net}" is a ${end} in section "${section.name}" and a ${before} elsewhere`,
                section.name,
                net,
              ),
            );
        }
    }
  return hits;
}

/** The kind of every net on a lane; whatever else is a signal. */
export const powerNets = once((view): ReadonlyMap<string, 'supply' | 'ground'> => {
  const kinds = new Map<string, 'supply' | 'ground'>();
  for (const section of view.sections) {
    const grounds = new Set(section.pairs.map((pair) => pair.ground));
    section.nets.forEach((net, lane) => {
      if (grounds.has(lane)) kinds.set(net, 'ground');
      else if (!kinds.has(net)) kinds.set(net, 'supply');
    });
  }
  return kinds;
});

function netKinds(view: View): readonly Hit[] {
  const kinds = powerNets(view);
  return view.placement.nets
    .filter((net) => net.kind !== (kinds.get(net.name) ?? 'signal'))
    .map((net) =>
      hit(
        `net "${net.name}" is listed as ${net.kind}; the sections make it a ${kinds.get(net.name) ?? 'signal'}`,
        net.name,
      ),
    );
}

/** Whether a kind joins lanes, inside or at a landing that feeds several. */
function mayTie({ ties, landings }: Kind): boolean {
  if (ties.length > 0) return true;
  for (const { feeds } of landings) if (feeds.length > 1) return true;
  return false;
}

/** A tie demands one net on all its lanes. */
const ties = eachCell((c, view) => {
  const { kind } = c;
  if (kind === null || !mayTie(kind)) return undefined;
  // A break cell joins what lies on either side of it.
  const parted = c.role === 'break' ? partedBy(view).get(c) : undefined;
  const sections = [c.section, parted?.before.section, parted?.after.section].filter((s) => s != null);
  const joined = [...kind.ties];
  // A landing is one piece of metal, whether a bond pad joins it or none. The ties list its lanes as well; one short is
  // told once.
  for (const { feeds } of kind.landings)
    if (feeds.length > 1 && !joined.some((group) => feeds.every((lane) => group.includes(lane))))
      joined.push(feeds);
  return joined.flatMap((group) => {
    const nets = new Set(sections.flatMap((s) => group.flatMap((lane) => netOn(s, lane) ?? [])));
    if (nets.size <= 1) return [];
    const lanes = group.map((lane) => laneName(view, lane)).join(' and ');
    const where = names([...new Set(sections.map((s) => s.name))]);
    return [hitAt(c, `cell "${c.name}" ties ${lanes}, which in ${where} are on ${names([...nets])}`, c.name)];
  });
});

const supplyNet = eachPad((p, view) => {
  const feeds = p.cell?.kind?.landings[p.landing]?.feeds;
  const section = p.cell?.section ?? null;
  if (feeds === undefined || section === null) return undefined;
  for (const lane of feeds) {
    const net = netOn(section, lane);
    if (net === undefined || net === p.pad.net) continue;
    return hitAt(
      p,
      `pin "${p.pad.pin}" is on net "${p.pad.net}", but feeds ${laneName(view, lane)}, which is "${net}" in section "${section.name}"`,
      p.pad.pin,
    );
  }
  return undefined;
});

const signalNet = eachPad((p, view) => {
  if (!feedsNothing(p)) return undefined;
  const power = powerNets(view).get(p.pad.net);
  if (power === undefined) return undefined;
  return hitAt(
    p,
    `pin "${p.pad.pin}" is on the ${power} net "${p.pad.net}", but its cell feeds no lane there`,
    p.pad.pin,
  );
});

const feedsNothing = (p: PadView): boolean => (p.cell?.kind?.landings[p.landing]?.feeds.length ?? 1) === 0;

/**
 * A clamp serves what its two arcs reach: where break cells part a section's runs so that neither lane goes on, each run
 * with bond pads needs one of its own.
 */
function clamps(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  const stretches = betweenBreaks(view);
  for (const section of view.sections)
    for (const pair of section.pairs) {
      const [supply, ground] = [laneName(view, pair.supply), laneName(view, pair.ground)];
      const supplyArcs = arcNumbers(stretches, pair.supply);
      const groundArcs = arcNumbers(stretches, pair.ground);
      const needs = new Map<string, boolean>();
      stretches.forEach(({ held }, k) => {
        const own = held.get(section);
        if (own === undefined || (stretches.length > 1 && !own.bonded)) return;
        const clamped = [...own.kinds].some(({ footprint }) =>
          footprint.clamps.some((clamp) => clamp.supply === supply && clamp.ground === ground),
        );
        const key = `${supplyArcs[k]} ${groundArcs[k]}`;
        needs.set(key, clamped || (needs.get(key) ?? false));
      });
      const bare = [...needs.values()].filter((held) => !held).length;
      if (bare === 0) continue;
      const where = needs.size > 1 ? ` in ${bare} of its ${needs.size} runs` : '';
      hits.push(
        hit(
          `section "${section.name}" has no discharge clamp between ${supply} and ${ground}${where}`,
          section.name,
        ),
      );
    }
  return hits;
}

/** What a section has in one stretch of the ring. */
interface Held {
  readonly kinds: Set<Kind>;
  /** Whether any of its cells there has a bond pad. */
  bonded: boolean;
}

interface StretchOfCells {
  readonly held: ReadonlyMap<SectionView, Held>;
  /** The break cell behind it; null where the ring has none. */
  readonly end: CellView | null;
}

/** The ring cut at every break cell, from the first one on. */
function betweenBreaks({ ring }: View): readonly StretchOfCells[] {
  const first = ring.findIndex((c) => c.role === 'break');
  const stretches: StretchOfCells[] = [];
  let held = new Map<SectionView, Held>();
  for (let k = 1; k <= ring.length; k++) {
    const cell = ring[(first + k) % ring.length];
    if (cell === undefined) continue;
    if (cell.role === 'break') {
      stretches.push({ held, end: cell });
      held = new Map();
      continue;
    }
    if (cell.section === null) continue;
    let own = held.get(cell.section);
    if (own === undefined) {
      own = { kinds: new Set(), bonded: false };
      held.set(cell.section, own);
    }
    if (cell.kind !== null) own.kinds.add(cell.kind);
    own.bonded ||= cell.pads.length > 0;
  }
  return first < 0 ? [{ held, end: null }] : stretches;
}

/** For each stretch the number of a lane's arc that it lies on: stretches whose break cell lets the lane through share it. */
function arcNumbers(stretches: readonly StretchOfCells[], lane: number): readonly number[] {
  let arc = 0;
  const numbers = stretches.map((_, k) => {
    const before = stretches[k - 1]?.end;
    if (k > 0 && before != null && !carries(before, lane)) arc++;
    return arc;
  });
  const last = stretches.at(-1)?.end;
  if (last == null || !carries(last, lane)) return numbers;
  // The ring closes: the last arc goes on as the first.
  return numbers.map((n) => (n === arc ? 0 : n));
}

export const SECTION_RULES: readonly Rule[] = [
  {
    name: 'section-lanes',
    severity: 'error',
    protects:
      "That every lane which a section's cells carry has a net there, and no net lies on a lane that none carries.",
    mend: "Name the lane's net in the section, or take out the lane that no cell carries.",
    run: lanesNamed,
  },
  {
    name: 'section-pairs',
    severity: 'error',
    protects:
      'That supply and ground of a pair are two nets of the section, each one or the other everywhere.',
    mend: 'Correct the pairs of the section, or the nets on their lanes.',
    run: pairs,
  },
  {
    name: 'net-kind',
    severity: 'error',
    protects: 'That a net is listed as what the sections make it: supply, ground or signal.',
    mend: 'Correct the kind of the net, or the pairs of the sections.',
    run: netKinds,
  },
  {
    name: 'tie',
    severity: 'error',
    protects: 'That a cell which ties lanes together shorts no two nets.',
    mend: 'Put one net on the tied lanes of the section, or take a cell that does not tie them.',
    run: ties,
  },
  {
    name: 'supply-net',
    severity: 'error',
    protects: 'That a supply pad is on the net of the lane which it feeds.',
    mend: "Put the pin on the lane's net, or the cell into the section of its net.",
    run: supplyNet,
  },
  {
    name: 'signal-net',
    severity: 'error',
    protects: 'That a pad which feeds no lane bears the name of a power net on purpose only.',
    mend: 'Take a supply cell for the pin, or another net; where it is meant, waive it with the reason.',
    run: signalNet,
  },
  {
    name: 'clamp-missing',
    severity: 'error',
    protects: 'That discharge finds a way between the supply and the ground of every pair.',
    mend: 'Add a cell with a clamp between the two lanes to the section.',
    run: clamps,
  },
];
