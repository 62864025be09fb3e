/** Footprints that contradict themselves: whatever is checked against them would be checked against nonsense. */
import type { Hit, Rule } from '../finding.ts';
import type { Kind } from '../kinds.ts';
import { hit, um } from '../say.ts';
import type { View } from '../view.ts';

function* faultsOf(kind: Kind): Generator<string> {
  const { footprint: f, along, deep } = kind;
  if (kind.deep <= 0 || kind.along <= 0) yield 'has no extent';
  // A corner cell's strips run as deep as the rows of its sides.
  const depth = f.role === 'corner' ? Math.min(along, deep) : deep;
  for (const face of [kind.start, kind.end])
    for (const strip of face.strips)
      if (strip.from >= strip.to || strip.to > depth)
        yield `has a strip on ${strip.layer} from ${um(strip.from)} to ${um(strip.to)}, which is not within its ${um(depth)} of depth`;
  for (const landing of kind.landings) {
    if (landing.at < 0 || landing.at > along) yield `has landing "${landing.name}" outside its width`;
    const { inside } = landing;
    // Along the edge it may overhang its neighbours.
    if (inside !== null && (inside.t - inside.deep / 2 < 0 || inside.t + inside.deep / 2 > deep))
      yield `contains at landing "${landing.name}" a bond pad that reaches beyond its depth`;
    if (inside !== null && (inside.openingAlong > inside.along || inside.openingDeep > inside.deep))
      yield `has at landing "${landing.name}" an opening larger than its bond pad`;
  }
  yield* strangeLanes(kind);
  yield* shortsInside(kind);
  yield* deadEnds(kind);
  if (f.role !== 'break' && f.diodes.length > 0)
    yield `has diodes across ${f.diodes.join(', ')}, and only a break cell parts lanes`;
  if (f.role === 'break')
    for (const { lane, strips } of f.lanes)
      if (f.diodes.includes(lane) && strips.some((strip) => strip.carry === 'through'))
        yield `has diodes across ${lane}, which it lets through`;
  if (f.perSection !== null && f.perSection.most !== null && f.perSection.most < f.perSection.least)
    yield `is asked for at least ${f.perSection.least} and at most ${f.perSection.most} times a section`;
  if (f.role === 'corner' && kind.setback !== 0) yield 'is a corner cell with a setback';
}

/** A cell joins only lanes of which it has a strip: to its bond pads, in its clamps and where it ties them. */
function* strangeLanes({ footprint: f }: Kind): Generator<string> {
  const own = new Set<string>();
  for (const { lane, strips } of f.lanes) if (strips.length > 0) own.add(lane);
  const joins: readonly (readonly [string, readonly string[]])[] = [
    ...f.landings.map((landing) => [`feeds at landing "${landing.name}"`, landing.feeds] as const),
    ...f.clamps.map(({ supply, ground }) => ['clamps', [supply, ground]] as const),
    ...f.ties.map((tie) => ['ties', tie] as const),
  ];
  for (const [what, lanes] of joins)
    for (const lane of lanes) if (!own.has(lane)) yield `${what} ${lane}, of which it has no strip`;
}

/** Strips of two lanes that overlap at an edge are one piece of metal within the cell, whatever its neighbours have there. */
function* shortsInside({ start, end }: Kind): Generator<string> {
  for (const { strips } of [start, end]) {
    let before = strips[0];
    for (const strip of strips) {
      if (before?.layer !== strip.layer) before = strip;
      if (strip.lane !== before.lane && strip.from < before.to)
        yield `has strips of two lanes that overlap on ${strip.layer}, from ${um(strip.from)} on`;
      if (strip.to > before.to) before = strip;
    }
  }
}

/** A lane that goes on through a cell does so from edge to edge. */
function* deadEnds({ footprint: f }: Kind): Generator<string> {
  for (const { lane, strips } of f.lanes)
    for (const edge of ['start', 'end'] as const) {
      const through = strips.filter((strip) => strip.carry === 'through');
      if (through.length > 0 && !through.some((strip) => strip.edges === 'both' || strip.edges === edge))
        yield `lets ${lane} through, but with no strip that goes on at its ${edge} edge`;
    }
}

const faults = ({ kinds }: View): readonly Hit[] =>
  kinds.flatMap((kind) =>
    [...new Set(faultsOf(kind))].map((fault) =>
      hit(`footprint "${kind.footprint.name}" ${fault}`, kind.footprint.name),
    ),
  );

export const FOOTPRINT_RULES: readonly Rule[] = [
  {
    name: 'footprint',
    severity: 'error',
    protects:
      'That a footprint can be what it says: strips and landings within it, openings within their pads.',
    mend: "Correct the footprint from the library's own data.",
    run: faults,
  },
];
