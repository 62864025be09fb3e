/** The size of every bond pad that no cell contains, and of its opening: as the kinds of the rules have them. */
import type { Rules } from '../../format/placement.ts';
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { hitAt, um } from '../say.ts';
import { isVertical } from '../turn.ts';
import type { PadView, View } from '../view.ts';

type Kind = NonNullable<Rules['pads']['kinds']>[number];

interface Size {
  readonly along: number;
  readonly deep: number;
  readonly openingAlong: number;
  readonly openingDeep: number;
}

const sizeOfKind = ({ along, deep, opening }: Kind): Size => ({
  along: whole(along),
  deep: whole(deep),
  openingAlong: whole(opening.along),
  openingDeep: whole(opening.deep),
});

function sizeOfPad({ side, s0, s1, t0, t1, opening: o }: PadView): Size {
  const [width, height] = [o.x1 - o.x0, o.y1 - o.y0];
  const vertical = isVertical(side);
  return {
    along: s1 - s0,
    deep: t1 - t0,
    openingAlong: vertical ? height : width,
    openingDeep: vertical ? width : height,
  };
}

const same = (a: Size, b: Size): boolean =>
  a.along === b.along &&
  a.deep === b.deep &&
  a.openingAlong === b.openingAlong &&
  a.openingDeep === b.openingDeep;

const say = (s: Size): string =>
  `${um(s.along)} by ${um(s.deep)}, opening ${um(s.openingAlong)} by ${um(s.openingDeep)}`;

/** The kinds that each pin was asked for with; undefined where the file lists no pins. */
function kindsAsked({ placement }: View): ReadonlyMap<string, ReadonlySet<string>> | undefined {
  if (placement.pins === undefined) return undefined;
  const asked = new Map<string, Set<string>>();
  for (const { name, kind } of placement.pins) {
    if (kind === undefined) continue;
    const own = asked.get(name);
    if (own === undefined) asked.set(name, new Set([kind]));
    else own.add(kind);
  }
  return asked;
}

function kinds(view: View): readonly Hit[] {
  const allowed = view.placement.rules.pads.kinds?.map((kind) => ({
    name: kind.name,
    size: sizeOfKind(kind),
  }));
  if (allowed === undefined) return [];
  const asked = kindsAsked(view);
  const hits: Hit[] = [];
  for (const p of view.pads) {
    if (p.cell?.kind?.landings[p.landing]?.inside != null) continue;
    const { pin } = p.pad;
    const own = asked?.get(pin);
    const fitting = own === undefined ? allowed : allowed.filter((kind) => own.has(kind.name));
    const size = sizeOfPad(p);
    if (fitting.some((kind) => same(kind.size, size))) continue;
    const wanted = fitting.slice(0, 4).map((kind) => `${kind.name} (${say(kind.size)})`);
    const of = own === undefined ? 'the rules allow' : 'the pin was asked for with';
    hits.push(
      hitAt(
        p,
        `the bond pad of "${pin}" is ${say(size)}; ${of} ${wanted.join(', ') || [...(own ?? [])].join(', ') || 'none'}`,
        pin,
      ),
    );
  }
  return hits;
}

export const PAD_KIND_RULES: readonly Rule[] = [
  {
    name: 'pad-kind',
    severity: 'error',
    protects: 'That a bond pad and its opening have the size of the kind that was asked for.',
    mend: "Give the pad and its opening the size of the pin's kind in rules.pads.kinds.",
    run: kinds,
  },
];
