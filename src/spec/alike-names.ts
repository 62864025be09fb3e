/** Pins, nets, sections and kinds whose names only look different to a machine. */
import type { Place } from '../problems/problem.ts';
import { alikeNames, spelled } from '../problems/unseen.ts';
import type { Source } from '../source/source.ts';
import { type Report, shown } from './report.ts';
import type { Entry } from './ring.ts';
import type { KnownText } from './schema.ts';

export function checkAlikeNames(
  report: Report,
  source: Source,
  text: KnownText,
  entries: readonly Entry[],
): void {
  const look = (kind: string, places: ReadonlyMap<string, () => Place>): void => {
    for (const [first, second] of alikeNames(places.keys()))
      report.error(
        places.get(second)?.() ?? source.placeOf([]),
        'alike-names',
        `two ${kind} have names that look like ${shown(second)}: ${shown(spelled(first))} and ${shown(spelled(second))}`,
        'write both alike where one is meant, or name one of the two otherwise',
      );
  };
  const keys = (path: readonly string[], of: object | undefined): ReadonlyMap<string, () => Place> =>
    new Map(Object.keys(of ?? {}).map((name) => [name, () => source.placeOfKey([...path, name])]));
  look('sections', keys(['sections'], text.sections));
  look('kinds of bond pad', keys(['bondPads', 'kinds'], text.bondPads?.kinds));
  const pins = new Map<string, () => Place>();
  const nets = new Map<string, () => Place>();
  for (const [section, { lanes }] of Object.entries(text.sections ?? {}))
    for (const [lane, net] of Object.entries(lanes))
      if (!nets.has(net)) nets.set(net, () => source.placeOf(['sections', section, 'lanes', lane]));
  for (const entry of entries) {
    for (const pin of entry.pins) if (!pins.has(pin)) pins.set(pin, () => entry.place);
    entry.nets.forEach((net, k) => {
      // A net that only bears its pin's name is told with the pin.
      if (net !== entry.pins[k] && !nets.has(net)) nets.set(net, () => entry.place);
    });
  }
  look('pins', pins);
  look('nets', nets);
}
