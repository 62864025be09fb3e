/** Names as a reader sees them: no sign that cannot be seen, and no two that look alike and are not. */
import type { Placement } from '../../format/placement.ts';
import { likeness } from '../../problems/look-alikes.ts';
import type { Hit, Rule } from '../finding.ts';
import { once } from '../once.ts';
import { hit } from '../say.ts';
import type { View } from '../view.ts';

const UNSEEN = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}\u2800]|(?! )\p{Zs}/u;
const UNSEEN_ALL = new RegExp(UNSEEN, 'gu');

/** What nearly every name is, and what is then neither unseen nor another's look-alike. */
const PLAIN = /^(?! )[\x20-\x7e]*(?<! )$/;

/** The names of a placement by what they name; two of one kind must not look alike. */
function* namesOf(placement: Placement): Generator<readonly [kind: string, names: Iterable<string>]> {
  const { footprints, sections, nets, bondPads, cells, stems, rails, rules } = placement;
  yield ['rings', [placement.ring]];
  yield ['cells', cells.map((c) => c.name)];
  yield ['footprints', footprints.map((f) => f.name)];
  yield ['sections', sections.map((s) => s.name)];
  const pins = new Set(bondPads.map((b) => b.pin));
  for (const { pins: own } of cells) if (own !== undefined) for (const pin of own) pins.add(pin);
  for (const { name } of placement.pins ?? []) pins.add(name);
  yield ['pins', pins];
  const allNets = new Set(nets.map((n) => n.name));
  for (const { net } of bondPads) allNets.add(net);
  const lanes = new Set<string>();
  for (const section of sections)
    for (const [lane, net] of Object.entries(section.lanes)) {
      lanes.add(lane);
      allNets.add(net);
    }
  const layers = new Set(rules.stems.layers);
  for (const f of footprints) {
    yield [`landings of "${f.name}"`, f.landings.map((landing) => landing.name)];
    for (const { lane, strips } of f.lanes) {
      lanes.add(lane);
      for (const { layer } of strips) layers.add(layer);
    }
  }
  for (const stem of stems)
    if (stem.layers !== rules.stems.layers) for (const l of stem.layers) layers.add(l);
  for (const rail of rails) lanes.add(rail.lane);
  yield ['nets', allNets];
  yield ['lanes', lanes];
  yield ['layers', layers];
  yield ['kinds of bond pad', (rules.pads.kinds ?? []).map((kind) => kind.name)];
  if (placement.package !== undefined) {
    yield ['packages', [placement.package.name]];
    yield ['fingers', placement.package.fingers.map((finger) => finger.name)];
  }
}

const isPlain = (name: string): boolean => PLAIN.test(name);

/**
 * Whether every name is plain, as nearly always: then nothing is unseen and no two look alike. All are looked at as one
 * text, which takes a fifth of the time of looking at each.
 */
const allPlain = once(({ placement }): boolean => {
  let text = '';
  for (const { name, pins } of placement.cells) {
    text += name;
    if (pins !== undefined) for (const pin of pins) text += pin;
  }
  for (const { pin, net } of placement.bondPads) text += net === pin ? pin : pin + net;
  for (const { name } of placement.pins ?? []) text += name;
  for (const { name } of placement.nets) text += name;
  for (const { layers } of placement.stems) for (const layer of layers) text += layer;
  for (const [, names] of namesOf({ ...placement, cells: [], bondPads: [], pins: [], nets: [], stems: [] }))
    for (const name of names) text += name;
  return isPlain(text);
});

const codePoint = (sign: string): string =>
  `U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;

function unseen(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  if (allPlain(view)) return hits;
  for (const [kind, names] of namesOf(view.placement))
    for (const name of names) {
      if (isPlain(name)) continue;
      const sign = UNSEEN.exec(name)?.[0] ?? / $|^ /.exec(name)?.[0];
      if (sign !== undefined)
        hits.push(
          hit(`the name "${name}", one of the ${kind}, holds ${codePoint(sign)}, which cannot be seen`, name),
        );
    }
  return hits;
}

/** What names share that look alike. */
const likenessOf = (name: string): string => likeness(name.replace(UNSEEN_ALL, '')).trim();

/** A name with every sign beyond the plain letters written out. */
const spelled = (name: string): string =>
  Array.from(name, (sign) => (isPlain(sign) ? sign : `\\u{${sign.codePointAt(0)?.toString(16)}}`)).join('');

function alike(view: View): readonly Hit[] {
  const hits: Hit[] = [];
  if (allPlain(view)) return hits;
  for (const [kind, names] of namesOf(view.placement)) {
    const all = [...names];
    if (all.every(isPlain)) continue;
    const first = new Map<string, string>();
    for (const name of new Set(all)) {
      const key = likenessOf(name);
      const before = first.get(key);
      if (before === undefined) first.set(key, name);
      else
        hits.push(
          hit(
            `two ${kind} have names that look alike: "${spelled(before)}" and "${spelled(name)}"`,
            before,
            name,
          ),
        );
    }
  }
  return hits;
}

export const NAME_SIGN_RULES: readonly Rule[] = [
  {
    name: 'name-unseen',
    severity: 'error',
    protects: 'That a name is what a reader sees: no sign in it is invisible or turns the line around.',
    mend: 'Write the name without the sign, wherever it is spoken of.',
    run: unseen,
  },
  {
    name: 'names-alike',
    severity: 'error',
    protects: 'That two names which look alike are one.',
    mend: 'Write both alike where one is meant, or name one of the two otherwise.',
    run: alike,
  },
];
