/** Figures of the demands and of the package that no chip and no wire can have. */
import type { PlacedPackage } from '../../format/placement.ts';
import type { Hit } from '../finding.ts';
import { hit } from '../say.ts';
import type { View } from '../view.ts';

/** Figures of wires that no wire can have, and limits that no wire keeps. */
export function figuresOfPackage(view: View): readonly Hit[] {
  const { package: bonded, rules } = view.placement;
  if (bonded === undefined) return [];
  const { wires, limits } = bonded;
  const { diameter, foot, pitch, loops } = wires;
  const hits: Hit[] = [];
  const say = (message: string, ...items: readonly string[]): void => {
    hits.push(hit(message, ...items));
  };
  if (foot < diameter) say(`a foot of ${foot} um is narrower than its wire of ${diameter} um`, 'foot');
  if (pitch < diameter)
    say(`feet may stand ${pitch} um from centre to centre, and wires are ${diameter} um thick`, 'pitch');
  for (const { height } of loops)
    if (height < diameter)
      say(`a loop of ${height} um is lower than its wire of ${diameter} um is thick`, 'loops');
  const { least, most } = limits.span;
  if (least !== null && most !== null && least > most)
    say(`wires may span at most ${most} um, and must span at least ${least} um`, 'span');
  if (limits.height < diameter)
    say(
      `wires whose loops differ by ${limits.height} um are to pass above each other, and are ${diameter} um thick`,
      'height',
    );
  const nominal = rules.electrical?.wires ?? null;
  if (nominal !== null && (nominal.diameter !== diameter || nominal.metal !== wires.metal))
    say(
      `the demands speak of ${nominal.metal} wires of ${nominal.diameter} um, the package of ${wires.metal} ones of ${diameter} um`,
      'wires',
    );
  return [...hits, ...unlooped(view, bonded), ...tierGaps(bonded)];
}

/** Rows and tiers of wires that no loop height is for. */
function unlooped({ padNumbered }: View, { bonds, fingers, wires }: PlacedPackage): readonly Hit[] {
  const tiers = new Map(fingers.map((finger) => [finger.name, finger.tier]));
  const lacking = new Map<string, string>();
  for (const { bondPad, finger } of bonds) {
    const pad = padNumbered(bondPad)?.pad;
    const tier = finger === null ? 0 : tiers.get(finger);
    if (pad === undefined || tier === undefined) continue;
    const { row } = pad;
    const fits = wires.loops.some(
      (loop) => (loop.row === null || loop.row === row) && (loop.tier === null || loop.tier === tier),
    );
    if (!fits && !lacking.has(`${row} ${tier}`)) lacking.set(`${row} ${tier}`, pad.pin);
  }
  return [...lacking.values()].map((pin) =>
    hit(`no loop height is given for the wire from "${pin}" and those of its row and tier`, pin),
  );
}

/** Tiers count from the innermost, each one there. */
function tierGaps({ fingers }: PlacedPackage): readonly Hit[] {
  const tiers = new Map<number, string>();
  for (const { name, tier } of fingers) if (!tiers.has(tier)) tiers.set(tier, name);
  return [...tiers]
    .filter(([tier]) => tier > 1 && !tiers.has(tier - 1))
    .map(([tier, name]) =>
      hit(`finger "${name}" is of tier ${tier}, and no finger is of tier ${tier - 1}`, name),
    );
}

/** Current limits by temperature, which stand with the coolest first. */
export function figuresOfDemands({ placement }: View): readonly Hit[] {
  const hits: Hit[] = [];
  for (const { name, limits } of placement.rules.electrical?.layers ?? []) {
    const temperatures = limits.flatMap(({ celsius }) => celsius ?? []);
    if (temperatures.some((celsius, i) => i > 0 && celsius < (temperatures[i - 1] ?? celsius)))
      hits.push(
        hit(
          `the current limits of layer "${name}" are for ${temperatures.join(', ')} degC, not the coolest first`,
          name,
        ),
      );
  }
  return hits;
}
