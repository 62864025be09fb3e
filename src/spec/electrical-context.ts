/** What the demands are resolved against, and how a wrong or useless key of them is told. */
import type { Units } from '../geometry/units.ts';
import type { Library } from '../library/footprint.ts';
import type { Path, Source } from '../source/source.ts';
import type { Report } from './report.ts';
import type { Entry, Section } from './ring.ts';

export interface ElectricalContext {
  readonly report: Report;
  readonly source: Source;
  readonly library: Library;
  readonly sections: readonly Section[];
  readonly entries: readonly Entry[];
  readonly grid: Units;
  /** Whether a package says what the wires are. */
  readonly packaged: boolean;
}

export const BLOCK = 'electrical';

/** Refuses a key below `electrical` that can change nothing. */
export function refuse({ report, source }: ElectricalContext, path: Path, why: string): void {
  const full = [BLOCK, ...path];
  report.absence(
    source.placeOfKey(full),
    'useless-key',
    `\`${full.join('.')}\` can change nothing: ${why}`,
    'give what it needs, or leave it out',
  );
}

/** Reports a key below `electrical` that is wrong. */
export function wrong(
  { report, source }: ElectricalContext,
  path: Path,
  code: string,
  message: string,
  mend: string,
): void {
  report.error(source.placeOf([BLOCK, ...path]), code, message, mend);
}

/** The nets of supplies and of grounds, by the sections' pairs. */
export function netsByKind(sections: readonly Section[]): {
  readonly supply: ReadonlySet<string>;
  readonly ground: ReadonlySet<string>;
} {
  const nets = { supply: new Set<string>(), ground: new Set<string>() };
  for (const { lanes, pairs } of sections)
    for (const pair of pairs)
      for (const end of ['supply', 'ground'] as const) {
        const net = lanes.get(pair[end]);
        if (net !== undefined) nets[end].add(net);
      }
  return nets;
}
