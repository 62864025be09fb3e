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
    if (inside !== null && (inside.openingAlong > inside.along || inside.openingDeep > inside.deep))
      yield `has at landing "${landing.name}" an opening larger than its bond pad`;
  }
  if (f.role === 'break')
    for (const { lane, strips } of f.lanes)
      if (f.diodes.includes(lane) && strips.some((strip) => strip.carry === 'through'))
        yield `has diodes across ${lane}, which it lets through`;
  if (f.perSection !== null && f.perSection.most !== null && f.perSection.most < f.perSection.least)
    yield `is asked for at least ${f.perSection.least} and at most ${f.perSection.most} times a section`;
  if (f.role === 'corner' && kind.setback !== 0) yield 'is a corner cell with a setback';
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
