/** The wires of each pin, against the fingers of the package that it was to come out at. */
import type { Hit, Rule } from '../finding.ts';
import { few, hit } from '../say.ts';
import type { View } from '../view.ts';

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

export const PIN_FINGER_RULES: readonly Rule[] = [
  {
    name: 'pin-finger',
    severity: 'error',
    protects: 'That each pin of the chip comes out at its own pins of the package.',
    mend: 'Wire the bond pad to the fingers that pins names.',
    run: fingers,
  },
];
