/** The rules between neighbours, each naming pins, nets or sections that must exist. */
import type { Path, Source } from '../source/source.ts';
import { didYouMean, type Report, shown } from './report.ts';
import type { Entry, NeighbourRule, Section } from './ring.ts';
import type { NeighbourText } from './schema.ts';

/** The keys that a rule is told by, and those that it may have beside them. */
const COMPANIONS = {
  together: [],
  apart: ['from', 'distance'],
  besideGround: [],
  signalsBetweenGrounds: ['sections'],
} as const;
const KINDS = ['together', 'apart', 'besideGround', 'signalsBetweenGrounds'] as const;

interface NeighbourContext {
  readonly report: Report;
  readonly source: Source;
  readonly sections: readonly Section[];
  /** Every pin, and whether it has a bond pad. */
  readonly pins: ReadonlyMap<string, boolean>;
  /** The supply nets that a bond pad feeds. */
  readonly supplies: readonly string[];
}

export function resolveNeighbours(
  report: Report,
  source: Source,
  texts: readonly NeighbourText[],
  entries: readonly Entry[],
  sections: readonly Section[],
): readonly NeighbourRule[] {
  const pins = new Map<string, boolean>();
  const fed = new Set<string>();
  for (const entry of entries)
    entry.footprint.landings.forEach((landing, k) => {
      const pin = entry.pins[k];
      const padded = landing.inside !== null || entry.pad !== null;
      if (pin !== undefined) pins.set(pin, padded || pins.get(pin) === true);
      if (landing.feeds.length > 0) fed.add(entry.nets[k] ?? '');
    });
  const supplies = new Set(
    sections.flatMap((s) => s.pairs.flatMap((pair) => s.lanes.get(pair.supply) ?? [])),
  );
  const context = { report, source, sections, pins, supplies: [...supplies].filter((net) => fed.has(net)) };
  return texts.flatMap((text, i) => resolveNeighbour(context, text, i) ?? []);
}

function resolveNeighbour(
  context: NeighbourContext,
  text: NeighbourText,
  index: number,
): NeighbourRule | undefined {
  const { report, source, sections } = context;
  const at = (...path: Path): Path => ['neighbours', index, ...path];
  const kinds = KINDS.filter((kind) => text[kind] !== undefined);
  const [kind] = kinds;
  if (kind === undefined || kinds.length > 1) {
    report.error(
      source.placeOf(at()),
      'either-or',
      kind === undefined
        ? 'this entry names no rule'
        : `this entry names ${kinds.length} rules: ${kinds.map(shown).join(', ')}`,
      `write one of ${KINDS.map(shown).join(', ')} an entry`,
    );
    return undefined;
  }
  const companions: readonly string[] = COMPANIONS[kind];
  for (const key of ['from', 'distance', 'sections'] as const)
    if (text[key] !== undefined && !companions.includes(key))
      report.error(
        source.placeOfKey(at(key)),
        'useless-key',
        `\`${key}\` says nothing beside \`${kind}\``,
        `leave it out; it belongs to \`${key === 'sections' ? 'signalsBetweenGrounds' : 'apart'}\``,
      );
  switch (kind) {
    case 'together': {
      const pins = text.together ?? [];
      knownPins(context, pins, at('together'));
      return { kind: 'together', pins };
    }
    case 'apart': {
      const { apart: pins = [], from, distance } = text;
      for (const key of ['from', 'distance'] as const)
        if (text[key] === undefined)
          report.error(
            source.placeOf(at()),
            'missing-key',
            `\`apart\` needs \`${key}\``,
            key === 'from' ? 'add `from:` with the pins to keep away from' : 'add `distance:` in micrometres',
          );
      knownPins(context, pins, at('apart'));
      knownPins(context, from ?? [], at('from'));
      from?.forEach((pin, i) => {
        if (pins.includes(pin))
          report.error(
            source.placeOf(at('from', i)),
            'apart-from-itself',
            `pin ${shown(pin)} stands on both sides of the rule`,
            'leave it out of one',
          );
      });
      return from === undefined || distance === undefined
        ? undefined
        : { kind: 'apart', pins, from, distance };
    }
    case 'besideGround': {
      const nets = text.besideGround ?? [];
      nets.forEach((net, i) => {
        if (!context.supplies.includes(net))
          report.absence(
            source.placeOf(at('besideGround', i)),
            'unknown-net',
            `no supply pin is on a net ${shown(net)} that a pair names as its supply`,
            didYouMean(net, context.supplies, 'supply net'),
          );
      });
      return { kind: 'beside-ground', nets };
    }
    case 'signalsBetweenGrounds': {
      const all = sections.map((section) => section.name);
      text.sections?.forEach((name, i) => {
        if (!all.includes(name))
          report.absence(
            source.placeOf(at('sections', i)),
            'unknown-section',
            `there is no section ${shown(name)}`,
            didYouMean(name, all, 'section'),
          );
      });
      return {
        kind: 'signals-between-grounds',
        most: text.signalsBetweenGrounds ?? 0,
        sections: text.sections ?? all,
      };
    }
  }
}

function knownPins(context: NeighbourContext, names: readonly string[], path: Path): void {
  const { report, source, pins } = context;
  names.forEach((name, i) => {
    const place = source.placeOf([...path, i]);
    if (names.indexOf(name) !== i)
      report.error(place, 'duplicate-name', `pin ${shown(name)} is named twice`, 'leave one of the two');
    else if (!pins.has(name))
      report.absence(
        place,
        'unknown-pin',
        `there is no pin ${shown(name)}`,
        didYouMean(name, [...pins.keys()], 'pin'),
      );
    else if (pins.get(name) === false)
      report.absence(
        place,
        'pin-without-pad',
        `pin ${shown(name)} has no bond pad`,
        'name a pin that has one',
      );
  });
}
