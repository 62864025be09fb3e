/** The wires of each pin, against the fingers of the package that it was to come out at. */
import type { Hit, Rule } from '../finding.ts';
import { few, hit, names } from '../say.ts';
import type { View } from '../view.ts';
import { fingerPlaces, overlappingFingers } from './finger-places.ts';

type Fingers = readonly (string | null)[];

const say = (fingers: Fingers): string =>
  few(fingers.map((finger) => (finger === null ? 'the paddle' : `finger "${finger}"`))) || 'no finger';

/** The same ends in any order; those of pads that share a pin's name are compared together. */
const keyOf = (fingers: Fingers): string => JSON.stringify(fingers.map((f) => f ?? 0).sort());

function fingers(view: View): readonly Hit[] {
  const { pins, package: bonded } = view.placement;
  const wanted = new Map<string, (string | null)[]>();
  for (const { name, fingers } of pins ?? []) {
    if (fingers === undefined) continue;
    const own = wanted.get(name);
    if (own === undefined) wanted.set(name, [...fingers]);
    else own.push(...fingers);
  }
  if (wanted.size === 0) return [];
  if (bonded === undefined)
    return [
      hit('the pins were asked for with fingers of a package, and the file holds no package', 'package'),
    ];
  const given = new Map<string, (string | null)[]>();
  for (const { bondPad, finger } of bonded.bonds) {
    const pin = view.padNumbered(bondPad)?.pad.pin;
    if (pin === undefined) continue;
    const own = given.get(pin);
    if (own === undefined) given.set(pin, [finger]);
    else own.push(finger);
  }
  const hits: Hit[] = [];
  for (const [pin, ends] of wanted) {
    const own = given.get(pin) ?? [];
    if (keyOf(own) !== keyOf(ends))
      hits.push(hit(`pin "${pin}" is wired to ${say(own)}; it was to go to ${say(ends)}`, pin));
  }
  return hits;
}

/** The kinds of nets that may share a finger: a signal none, a supply no ground. */
function shorted(nets: ReadonlyMap<string, string>): boolean {
  const kinds = new Set(nets.values());
  return nets.size > 1 && (kinds.has('signal') || kinds.size > 1);
}

/** What ends on one finger. */
interface End {
  readonly finger: string | null;
  /** The kinds of its nets by their names. */
  readonly nets: Map<string, string>;
  readonly pins: string[];
}

/** Wires of two nets that end on one finger, or on the paddle, join them; so do two fingers that are one piece of metal. */
function joins(view: View): readonly Hit[] {
  const { package: bonded, nets } = view.placement;
  if (bonded === undefined) return [];
  const hits: Hit[] = [];
  const kinds = new Map(nets.map(({ name, kind }) => [name, kind]));
  const ends = new Map<string | null, End>();
  for (const { bondPad, finger } of bonded.bonds) {
    const pad = view.padNumbered(bondPad)?.pad;
    if (pad === undefined) continue;
    let end = ends.get(finger);
    if (end === undefined) {
      end = { finger, nets: new Map(), pins: [] };
      ends.set(finger, end);
    }
    end.nets.set(pad.net, kinds.get(pad.net) ?? 'signal');
    end.pins.push(pad.pin);
  }
  for (const { finger, nets: own, pins } of ends.values())
    if (shorted(own)) hits.push(hit(`${say([finger])} joins nets ${names([...own.keys()])}`, ...pins));
  const places = new Map<string, string>();
  for (const { name, x, y } of bonded.fingers) {
    const before = places.get(`${x} ${y}`);
    if (before === undefined) places.set(`${x} ${y}`, name);
    else hits.push(hit(`fingers "${before}" and "${name}" lie on one place`, before, name));
  }
  /** Whether both have wires, of nets that may be one. */
  const joinable = (a: string, b: string): boolean => {
    const [one, other] = [ends.get(a)?.nets, ends.get(b)?.nets];
    return one !== undefined && other !== undefined && !shorted(new Map([...one, ...other]));
  };
  return [...hits, ...overlappingFingers(bonded, joinable)];
}

export const PIN_FINGER_RULES: readonly Rule[] = [
  {
    name: 'pin-finger',
    severity: 'error',
    protects: 'That each pin of the chip comes out at its own pins of the package.',
    mend: 'Wire the bond pad to the fingers that pins names.',
    run: fingers,
  },
  {
    name: 'finger-short',
    severity: 'error',
    protects: 'That no finger, nor the paddle, joins a signal with another net, or a supply with a ground.',
    mend: 'Wire one of the bond pads to another finger, or move the finger.',
    run: joins,
  },
  {
    name: 'finger-place',
    severity: 'error',
    protects: 'That each finger lies on its own side of the package and leads away from the die.',
    mend: 'Correct its place, its angle or its side.',
    run: fingerPlaces,
  },
];
