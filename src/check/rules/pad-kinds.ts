/** The size of every bond pad that no cell contains, and of its opening: as the kinds of the rules have them. */
import type { Rules } from '../../format/placement.ts';
import { whole } from '../exact.ts';
import type { Hit, Rule } from '../finding.ts';
import { hitAt, um } from '../say.ts';
import { isVertical } from '../turn.ts';
import type { PadView, View } from '../view.ts';
import { entriesInOrder } from './listed-pins.ts';

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

/** Whether a bond pad has the size of a kind. */
function fits(p: PadView, { along, deep, openingAlong, openingDeep }: Size): boolean {
  if (p.s1 - p.s0 !== along || p.t1 - p.t0 !== deep) return false;
  const vertical = isVertical(p.side);
  return (
    p.openX1 - p.openX0 === (vertical ? openingDeep : openingAlong) &&
    p.openY1 - p.openY0 === (vertical ? openingAlong : openingDeep)
  );
}

function fitsOne(p: PadView, sizes: readonly Size[]): boolean {
  for (const size of sizes) if (fits(p, size)) return true;
  return false;
}

const say = (s: Size): string =>
  `${um(s.along)} by ${um(s.deep)}, opening ${um(s.openingAlong)} by ${um(s.openingDeep)}`;

/** The kinds that each pin was asked for with; undefined where the file lists no pins. */
function kindsAsked({ placement }: View): ReadonlyMap<string, readonly string[]> | undefined {
  if (placement.pins === undefined) return undefined;
  const asked = new Map<string, string[]>();
  for (const { name, kind } of placement.pins) {
    if (kind === undefined) continue;
    const own = asked.get(name);
    if (own === undefined) asked.set(name, [kind]);
    else if (!own.includes(kind)) own.push(kind);
  }
  return asked;
}

function kinds(view: View): readonly Hit[] {
  const allowed = view.placement.rules.pads.kinds?.map((kind) => ({
    name: kind.name,
    size: sizeOfKind(kind),
  }));
  if (allowed === undefined) return [];
  const inOrder = entriesInOrder(view);
  const asked = inOrder === undefined ? kindsAsked(view) : undefined;
  const named = new Map<string, Size[]>();
  for (const { name, size } of allowed) named.set(name, [...(named.get(name) ?? []), size]);
  const hits: Hit[] = [];
  for (const p of view.pads) {
    if (p.cell?.kind?.landings[p.landing]?.inside != null) continue;
    const { pin } = p.pad;
    const kind = inOrder?.[p.index]?.kind;
    if (kind !== undefined && fitsOne(p, named.get(kind) ?? [])) continue;
    const own = kind === undefined ? asked?.get(pin) : [kind];
    const fitting = own === undefined ? allowed : allowed.filter(({ name }) => own.includes(name));
    if (kind === undefined && fitting.some(({ size }) => fits(p, size))) continue;
    const wanted = fitting.slice(0, 4).map(({ name, size }) => `${name} (${say(size)})`);
    const of = own === undefined ? 'the rules allow' : 'the pin was asked for with';
    hits.push(
      hitAt(
        p,
        `the bond pad of "${pin}" is ${say(sizeOfPad(p))}; ${of} ${wanted.join(', ') || own?.join(', ') || 'none'}`,
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
