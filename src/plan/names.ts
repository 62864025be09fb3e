/** Names of placed cells: unique, the same on every run, and a pin's cell is found under the pin's name. */

import { SIDES } from '../geometry/side.ts';
import type { Entry, Ring } from '../spec/ring.ts';

export interface Namer {
  readonly ofEntry: (entry: Entry) => string;
  readonly ofBreak: () => string;
}

/**
 * A cell with pins bears its first pin's name, one without its footprint's name and a count; a name that is taken
 * gets the next free `.2`, `.3`. Pin names are set aside first, so that nothing else takes them.
 */
export function namer(ring: Ring): Namer {
  const pins = new Set(SIDES.flatMap((side) => ring.sides[side].entries.flatMap((e) => e.pins.slice(0, 1))));
  const taken = new Set<string>();
  const counts = new Map<string, number>();
  const unique = (wanted: string): string => {
    if (!taken.has(wanted)) {
      taken.add(wanted);
      return wanted;
    }
    let k = counts.get(wanted) ?? 2;
    while (taken.has(`${wanted}.${k}`) || pins.has(`${wanted}.${k}`)) k++;
    counts.set(wanted, k + 1);
    taken.add(`${wanted}.${k}`);
    return `${wanted}.${k}`;
  };
  const counted = (stem: string): string => {
    let k = counts.get(`${stem}-`) ?? 1;
    while (taken.has(`${stem}-${k}`) || pins.has(`${stem}-${k}`)) k++;
    counts.set(`${stem}-`, k + 1);
    taken.add(`${stem}-${k}`);
    return `${stem}-${k}`;
  };
  return {
    ofEntry: (entry) => {
      const pin = entry.pins[0];
      return pin === undefined ? counted(entry.footprint.name) : unique(pin);
    },
    ofBreak: () => counted('parting'),
  };
}
