/** From the description's `package` to the resolved one: names found, counts held against each other, defaults in. */
import { SIDES, type Side } from '../geometry/side.ts';
import type { Path, Source } from '../source/source.ts';
import { exact } from './lengths.ts';
import { type Finger, facingSide, PADDLE, type Package } from './package.ts';
import { type PackageContext, useless } from './package-context.ts';
import { resolveFingers } from './package-fingers.ts';
import { PACKAGE_DEFAULTS, type PackageText } from './package-schema.ts';
import { checkLimits, checkLoops, wiresOf } from './package-wires.ts';
import { didYouMean, type Report, shown } from './report.ts';
import type { Entry, Slack } from './ring.ts';

/** Slack goes toward fingers only where there are any. */
export function checkSlack(
  report: Report,
  source: Source,
  slacks: Readonly<Record<Side, Slack>>,
  text: PackageText | undefined,
): void {
  if (text === undefined && SIDES.some((side) => slacks[side] === 'toward-fingers'))
    report.absence(
      source.placeOf(['slack']),
      'missing-key',
      'slack goes `toward-fingers`, and no package says where the fingers are',
      'add `package:` with its fingers and wires, or choose another slack',
    );
}

/** A pin with a bond pad. */
interface BondedPin {
  readonly pin: string;
  /** Null where it is still to be found. */
  readonly side: Side | null;
  readonly entry: Entry;
}

/** The package; undefined where its fingers cannot be made out, which was then reported. */
export function resolvePackage(context: PackageContext, text: PackageText): Package | undefined {
  const { report, source } = context;
  const fingers = resolveFingers(report, source, text.fingers, context.table);
  const pads = padsOf(context);
  checkLoops(context, text, fingers ?? []);
  checkLimits(context, text);
  if (fingers === undefined) return undefined;
  const rotation = text.die?.rotation ?? PACKAGE_DEFAULTS.die.rotation;
  const bonds = resolveBonds(context, text, fingers, pads, rotation);
  return {
    name: text.name,
    cavity: text.cavity ?? null,
    paddle:
      text.paddle === undefined
        ? null
        : { ...text.paddle, drop: text.paddle.drop ?? exact(PACKAGE_DEFAULTS.paddle.drop) },
    die: {
      x: text.die?.x ?? exact(PACKAGE_DEFAULTS.die.x),
      y: text.die?.y ?? exact(PACKAGE_DEFAULTS.die.y),
      rotation,
    },
    fingers,
    bonds,
    ...wiresOf(text),
    place: source.placeOfKey(['package']),
  };
}

/** Every bond pad with its pin; several pads may bear one pin's name. */
function padsOf({ entries, unbound }: PackageContext): readonly BondedPin[] {
  const pads: BondedPin[] = [];
  for (const side of [...SIDES, null])
    for (const entry of side === null ? (unbound ?? []) : entries[side])
      entry.footprint.landings.forEach((landing, k) => {
        const pin = entry.pins[k];
        if (pin !== undefined && (entry.pad !== null || landing.inside !== null))
          pads.push({ pin, side, entry });
      });
  return pads;
}

/** The pads of each pin by its name. */
type Pins = ReadonlyMap<string, readonly BondedPin[]>;

function byName(pads: readonly BondedPin[]): Pins {
  const pins = new Map<string, BondedPin[]>();
  for (const one of pads) {
    const known = pins.get(one.pin);
    if (known === undefined) pins.set(one.pin, [one]);
    else known.push(one);
  }
  return pins;
}

function resolveBonds(
  context: PackageContext,
  text: PackageText,
  fingers: readonly Finger[],
  pads: readonly BondedPin[],
  rotation: number,
): Package['bonds'] {
  const { report, source } = context;
  const pins = byName(pads);
  const given = text.bonds ?? {};
  const by = given.by ?? PACKAGE_DEFAULTS.bonds.by;
  const at = (...path: Path): Path => ['package', 'bonds', ...path];
  const indexOf = new Map(fingers.map((finger, i) => [finger.name, i]));
  const knownFinger = (name: string, path: Path): boolean => {
    if (indexOf.has(name)) return true;
    report.error(
      source.placeOf(path),
      'unknown-finger',
      `the package ${shown(text.name)} has no finger ${shown(name)}`,
      didYouMean(name, [...indexOf.keys()], 'finger'),
    );
    return false;
  };
  const knownPin = (pin: string, path: Path, onKey = false): boolean => {
    if (pins.has(pin)) return true;
    report.absence(
      onKey ? source.placeOfKey(path) : source.placeOf(path),
      'unknown-pin',
      `no pin ${shown(pin)} of the ring has a bond pad`,
      didYouMean(pin, [...pins.keys()], 'pin'),
    );
    return false;
  };

  const to = new Map<string, readonly string[]>();
  for (const [pin, wanted] of Object.entries(given.to ?? {})) {
    knownPin(pin, at('to', pin), true);
    const ends = typeof wanted === 'string' ? [wanted] : wanted;
    for (const end of new Set(ends))
      if (end !== PADDLE) knownFinger(end, at('to', pin));
      else if (text.paddle === undefined)
        report.error(
          source.placeOf(at('to', pin)),
          'no-paddle',
          `${shown(pin)} is bonded down to the paddle, and the package has none`,
          'add `paddle: {width: …, height: …, reach: …}` to the package',
        );
    to.set(pin, ends);
  }
  given.unbonded?.forEach((pin, i) => {
    if (knownPin(pin, at('unbonded', i)) && to.has(pin))
      report.error(
        source.placeOf(at('unbonded', i)),
        'either-or',
        `${shown(pin)} is left without a wire here and given a finger under \`to\``,
        'leave it out of one of them',
      );
  });
  given.free?.forEach((finger, i) => void knownFinger(finger, at('free', i)));
  for (const pin of Object.keys(text.wires.currents ?? {}))
    knownPin(pin, ['package', 'wires', 'currents', pin], true);
  checkGroups(context, given.exchange ?? [], pins, knownPin, (pin) => by === 'names' || to.has(pin));
  if (by !== 'order' && given.first !== undefined) useless(context, at('first'), `pins go by ${by}`);
  if (by === 'names' && given.free !== undefined) useless(context, at('free'), 'pins go by names');

  const bonds: Package['bonds'] = {
    by,
    first:
      given.first !== undefined && knownFinger(given.first, at('first'))
        ? (indexOf.get(given.first) ?? 0)
        : 0,
    free: given.free ?? [],
    to,
    unbonded: given.unbonded ?? [],
    exchange: given.exchange ?? [],
  };
  checkCounts(context, bonds, fingers, pads, rotation);
  return bonds;
}

/** Every pin that goes by names, order or sides finds a finger. */
function checkCounts(
  { report, source }: PackageContext,
  { by, to, unbonded, free }: Package['bonds'],
  fingers: readonly Finger[],
  pads: readonly BondedPin[],
  rotation: number,
): void {
  const left = pads.filter(({ pin }) => !to.has(pin) && !unbonded.includes(pin));
  if (by === 'names') {
    const names = new Set(fingers.map((finger) => finger.name));
    for (const { pin, entry } of left)
      if (!names.has(pin))
        report.error(
          entry.place,
          'unknown-finger',
          `pins go to fingers of their own names, and there is no finger ${shown(pin)}`,
          `${didYouMean(pin, [...names], 'finger')} Name the finger under \`package.bonds.to\`, or the pin under \`unbonded\``,
        );
    return;
  }
  const taken = new Set([...free, ...[...to.values()].flat()]);
  const open = fingers.filter((finger) => !taken.has(finger.name));
  const tooFew = (pads: number, there: number, where: string): void => {
    if (pads > there)
      report.error(
        source.placeOf(['package', 'fingers']),
        'too-few-fingers',
        `${pads} bond pads${where} and only ${there} fingers${where === '' ? '' : ' facing it'} for them`,
        where === '' || open.length < left.length
          ? 'take a package with more fingers, or name pins under `package.bonds.unbonded`'
          : 'move pins to other sides, name fingers under `package.bonds.to`, or say `by: order`',
      );
  };
  if (by === 'order' || left.some((pin) => pin.side === null)) {
    tooFew(left.length, open.length, '');
    return;
  }
  for (const side of SIDES)
    tooFew(
      left.filter((pin) => pin.side === side).length,
      open.filter((finger) => facingSide(finger.side, rotation) === side).length,
      ` on the ${side} side`,
    );
}

/** Pins of a group stand in alike cells that nothing holds at a place, so that they can change places. */
function checkGroups(
  { report, source }: PackageContext,
  groups: readonly (readonly string[])[],
  pins: Pins,
  knownPin: (pin: string, path: Path) => boolean,
  hasOwnFinger: (pin: string) => boolean,
): void {
  const seen = new Set<string>();
  groups.forEach((group, g) => {
    const first = pins.get(group[0] ?? '')?.[0];
    group.forEach((pin, i) => {
      const path: Path = ['package', 'bonds', 'exchange', g, i];
      const [bonded, another] = pins.get(pin) ?? [];
      const refuse = (why: string, mend: string): void =>
        report.error(source.placeOf(path), 'no-exchange', `${shown(pin)} cannot take part: ${why}`, mend);
      if (!knownPin(pin, path) || bonded === undefined) return;
      if (seen.has(pin)) refuse('it is listed before', 'list a pin once');
      else if (!hasOwnFinger(pin))
        refuse('its finger goes by its place, so it would only get another', 'name its finger under `to`');
      else if (another !== undefined) refuse('several bond pads bear its name', 'leave it out');
      else if (bonded.entry.at !== null)
        refuse('its cell is fixed at a place', 'leave out its `at`, or the pin here');
      else if (bonded.entry.pins.length > 1) refuse('its cell has several pins', 'leave it out');
      else if (first !== undefined && !alike(first.entry, bonded.entry))
        refuse(
          `its cell, section, row or bond pad is not that of ${shown(first.pin)}`,
          'make groups of pins with alike cells in one section',
        );
      seen.add(pin);
    });
  });
}

const alike = (a: Entry, b: Entry): boolean =>
  a.footprint.name === b.footprint.name &&
  a.section === b.section &&
  a.pad?.name === b.pad?.name &&
  a.row === b.row &&
  a.shift === b.shift &&
  a.gap === b.gap;
