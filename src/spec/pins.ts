/** The pins of a listed cell at its landings, and their nets. */
import type { Footprint, Landing } from '../library/footprint.ts';
import type { Place } from '../problems/problem.ts';
import type { ListedCell } from './pin-list.ts';
import { didYouMean, type Report, shown } from './report.ts';
import type { Entry, Section } from './ring.ts';

/** The pin of each landing, in the landings' order; fewer where some are missing, which was then reported. */
export function pinsOf(report: Report, cell: ListedCell, footprint: Footprint): readonly string[] {
  const { text, placeOf } = cell;
  const { landings } = footprint;
  if (landings.length === 0) {
    for (const key of ['pin', 'pins'] as const)
      if (text[key] !== undefined)
        report.error(
          placeOf(key),
          'useless-key',
          `${shown(footprint.name)} has no landing, so it can have no pin`,
          'leave the pin out, or choose a cell with a landing',
        );
    return [];
  }
  const names = landings.map((landing) => landing.name);
  const byLanding = `\`pins: {${names
    .slice(0, 6)
    .map((name) => `${name}: …`)
    .join(', ')}}\``;
  if (text.pin !== undefined && text.pins !== undefined)
    report.error(placeOf('pin'), 'either-or', '`pin` and `pins` are both given', 'leave one of the two out');
  if (text.pins === undefined) {
    if (text.pin === undefined)
      report.error(
        placeOf(),
        'missing-key',
        `${shown(footprint.name)} has ${landings.length === 1 ? 'a landing' : `${landings.length} landings`}, but no pin is named`,
        landings.length === 1 ? 'add `pin:`' : `add ${byLanding}`,
      );
    else if (landings.length > 1)
      report.error(
        placeOf('pin'),
        'missing-key',
        `${shown(footprint.name)} has ${landings.length} landings, so one \`pin\` is not enough`,
        `write ${byLanding}`,
      );
    return text.pin !== undefined && landings.length === 1 ? [text.pin] : [];
  }
  const { pins } = text;
  unknownLandings(report, cell, 'pins', footprint);
  const missing = names.filter((name) => !Object.hasOwn(pins, name));
  if (missing.length > 0)
    report.error(
      placeOf('pins'),
      'missing-key',
      `no pin is named for ${missing.map((name) => `landing ${shown(name)}`).join(' and ')} of ${shown(footprint.name)}`,
      `write ${byLanding}`,
    );
  return missing.length > 0 ? [] : names.flatMap((name) => pins[name] ?? []);
}

function unknownLandings(report: Report, cell: ListedCell, key: 'pins' | 'nets', footprint: Footprint): void {
  const names = footprint.landings.map((landing) => landing.name);
  for (const name of Object.keys(cell.text[key] ?? {}))
    if (!names.includes(name))
      report.error(
        cell.placeOf(key, name),
        'unknown-landing',
        `${shown(footprint.name)} has no landing ${shown(name)}`,
        didYouMean(name, names, 'landing'),
      );
}

/** The net of each pin. A supply pin is on its lane's net, another one on the net of its own name. */
export function netsOf(
  report: Report,
  cell: ListedCell,
  footprint: Footprint,
  pins: readonly string[],
  section: Section | undefined,
): readonly string[] {
  const { text, placeOf } = cell;
  if (footprint.landings.length === 0) {
    for (const key of ['net', 'nets'] as const)
      if (text[key] !== undefined)
        report.error(
          placeOf(key),
          'useless-key',
          `${shown(footprint.name)} has no landing, so it has no net`,
          'leave it out',
        );
    return [];
  }
  if (text.net !== undefined && (text.nets !== undefined || footprint.landings.length > 1))
    report.error(
      placeOf('net'),
      'either-or',
      text.nets === undefined
        ? `${shown(footprint.name)} has ${footprint.landings.length} landings, so one \`net\` does not say whose`
        : '`net` and `nets` are both given',
      'write `nets:` by the name of the landing',
    );
  unknownLandings(report, cell, 'nets', footprint);
  return footprint.landings.flatMap((landing, k) => {
    const pin = pins[k];
    if (pin === undefined) return [];
    const byName = text.nets !== undefined && Object.hasOwn(text.nets, landing.name);
    const given = byName ? text.nets?.[landing.name] : text.net;
    const place = (): Place => (byName ? placeOf('nets', landing.name) : placeOf('net'));
    return [
      landing.feeds.length > 0
        ? supplyNet(report, landing, pin, given, section, place)
        : signalNet(report, cell, pin, given, section),
    ];
  });
}

function supplyNet(
  report: Report,
  landing: Landing,
  pin: string,
  given: string | undefined,
  section: Section | undefined,
  place: () => Place,
): string {
  const onLanes = landing.feeds.flatMap((lane) => section?.lanes.get(lane) ?? []);
  if (given !== undefined && onLanes.length > 0 && !onLanes.includes(given))
    report.error(
      place(),
      'wrong-net',
      `pin ${shown(pin)} feeds lane ${landing.feeds.map(shown).join(' and ')}, which carries net ${[...new Set(onLanes)].map(shown).join(' and ')} in section ${shown(section?.name ?? '')}, not ${shown(given)}`,
      'leave `net` out, or put the pin into the section of that net',
    );
  return given ?? onLanes[0] ?? pin;
}

function signalNet(
  report: Report,
  cell: ListedCell,
  pin: string,
  given: string | undefined,
  section: Section | undefined,
): string {
  const lane = [...(section?.lanes ?? [])].find(([, net]) => net === pin)?.[0];
  if (given === undefined && lane !== undefined)
    report.error(
      cell.placeOf('pin'),
      'signal-on-supply',
      `pin ${shown(pin)} bears the name of the net on lane ${shown(lane)}, but ${shown(cell.text.cell)} does not feed that lane`,
      'choose a supply cell or name the pin otherwise; where it is meant, say so with `net:` and waive `signal-net`',
    );
  return given ?? pin;
}

/** A pin's name stands once, or on several supply pins of one net. */
export function checkPinNames(report: Report, entries: readonly Entry[]): void {
  const seen = new Map<string, { readonly supply: boolean; readonly net: string; readonly place: Place }>();
  for (const entry of entries)
    entry.pins.forEach((pin, k) => {
      const supply = (entry.footprint.landings[k]?.feeds.length ?? 0) > 0;
      const net = entry.nets[k] ?? pin;
      const before = seen.get(pin);
      if (before === undefined) seen.set(pin, { supply, net, place: entry.place });
      else if (!before.supply || !supply || before.net !== net) {
        const { file, line, column } = before.place;
        report.error(
          entry.place,
          'duplicate-pin',
          `pin ${shown(pin)} stands at ${file}:${line}:${column} already`,
          before.supply && supply
            ? `both are supply pins, but one is on net ${shown(before.net)} and one on ${shown(net)}`
            : 'only supply pins of one net may share a name',
        );
      }
    });
}
