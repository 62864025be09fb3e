/** The sections: lanes that the library knows, pairs of them, and a net on every lane that a section's cells carry. */
import type { Footprint, Library } from '../library/footprint.ts';
import type { Source } from '../source/source.ts';
import { didYouMean, type Report, shown } from './report.ts';
import type { Entry, Section } from './ring.ts';
import type { RingText } from './schema.ts';

/** All lanes that a cell of the library carries. */
const lanesOf = (library: Library): readonly string[] => [
  ...new Set([...library.footprints.values()].flatMap((f) => f.lanes.map((lane) => lane.lane))),
];

export function resolveSections(
  report: Report,
  source: Source,
  texts: RingText['sections'],
  library: Library,
): readonly Section[] {
  const known = lanesOf(library);
  const sections = Object.entries(texts).map(([name, text]): Section => {
    const lanes = Object.entries(text.lanes);
    for (const [lane] of lanes)
      if (!known.includes(lane))
        report.error(
          source.placeOfKey(['sections', name, 'lanes', lane]),
          'unknown-lane',
          `no cell of the library ${shown(library.name)} carries a lane ${shown(lane)}`,
          didYouMean(lane, known, 'lane'),
        );
    checkPairs(report, source, name, text);
    return { name, lanes: new Map(lanes), pairs: text.pairs };
  });
  if (sections.length === 0)
    report.error(
      source.placeOf(['sections']),
      'no-section',
      'there is no section',
      'name one, with the net on each lane: `sections: {main: {lanes: {…}, pairs: [{supply: …, ground: …}]}}`',
    );
  checkKinds(report, source, sections);
  return sections;
}

function checkPairs(report: Report, source: Source, name: string, text: RingText['sections'][string]): void {
  const lanes = Object.keys(text.lanes);
  const seen = new Set<string>();
  text.pairs.forEach((pair, i) => {
    const path = ['sections', name, 'pairs', i] as const;
    for (const end of ['supply', 'ground'] as const)
      if (!lanes.includes(pair[end]))
        report.error(
          source.placeOf([...path, end]),
          'unknown-lane',
          `section ${shown(name)} has no lane ${shown(pair[end])}`,
          didYouMean(pair[end], lanes, 'lane'),
        );
    const netOn = (lane: string): string | undefined =>
      Object.hasOwn(text.lanes, lane) ? text.lanes[lane] : undefined;
    const [supply, ground] = [netOn(pair.supply), netOn(pair.ground)];
    if (supply !== undefined && supply === ground)
      report.error(
        source.placeOf(path),
        'pair-shorted',
        `supply and ground of this pair are one net, ${shown(supply)}`,
        'put different nets on the two lanes, or pair other lanes',
      );
    const key = JSON.stringify([pair.supply, pair.ground]);
    if (seen.has(key))
      report.error(
        source.placeOf(path),
        'duplicate-pair',
        'this pair is given twice',
        'leave one of the two',
      );
    seen.add(key);
  });
}

/** A net is a supply everywhere or a ground everywhere. */
function checkKinds(report: Report, source: Source, sections: readonly Section[]): void {
  const kinds = new Map<string, { readonly end: 'supply' | 'ground'; readonly section: string }>();
  for (const section of sections)
    section.pairs.forEach((pair, i) => {
      for (const end of ['supply', 'ground'] as const) {
        const net = section.lanes.get(pair[end]);
        if (net === undefined) continue;
        const before = kinds.get(net);
        if (before === undefined) kinds.set(net, { end, section: section.name });
        else if (before.end !== end && section.lanes.get(pair.supply) !== section.lanes.get(pair.ground))
          report.error(
            source.placeOf(['sections', section.name, 'pairs', i, end]),
            'net-of-two-kinds',
            `net ${shown(net)} is a ${end} here and a ${before.end} in section ${shown(before.section)}`,
            'a net is a supply or a ground, everywhere the same',
          );
      }
    });
}

/** Every lane that a section's cells, or the fillers between them, carry needs a net. */
export function checkCarried(
  report: Report,
  source: Source,
  sections: readonly Section[],
  entries: readonly Entry[],
  fillers: readonly Footprint[],
): void {
  for (const section of sections) {
    const own = entries.filter((e) => e.section === section.name && e.footprint.role !== 'break');
    if (own.length === 0) {
      report.absence(
        source.placeOfKey(['sections', section.name]),
        'section-without-cells',
        `no cell is in section ${shown(section.name)}, so it says nothing`,
        'give it cells, or take it out',
      );
      continue;
    }
    const bearers = new Map<string, string>();
    for (const footprint of [...own.map((e) => e.footprint), ...fillers])
      for (const { lane } of footprint.lanes)
        if (!section.lanes.has(lane) && !bearers.has(lane)) bearers.set(lane, footprint.name);
    for (const [lane, bearer] of bearers)
      report.error(
        source.placeOfKey(['sections', section.name, 'lanes']),
        'lane-without-net',
        `section ${shown(section.name)} names no net for lane ${shown(lane)}, which its cell ${shown(bearer)} carries`,
        `add \`${lane}: <net>\` to its lanes`,
      );
  }
}
