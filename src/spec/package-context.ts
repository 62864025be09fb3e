/** What a package is resolved against, and how a key of it is told that can change nothing. */
import type { Side } from '../geometry/side.ts';
import { type Path, pathText, type Source } from '../source/source.ts';
import type { ListedFinger } from './package-fingers.ts';
import type { Report } from './report.ts';
import type { Entry } from './ring.ts';

export interface PackageContext {
  readonly report: Report;
  readonly source: Source;
  /** The fingers of the CSV file, where `fingers` names one that is as it should be. */
  readonly table: readonly ListedFinger[] | undefined;
  readonly entries: Readonly<Record<Side, readonly Entry[]>>;
  /** Cells whose side is still to be found. */
  readonly unbound?: readonly Entry[];
  /** Whether a side has two rows of bond pads. */
  readonly twoRows: (side: Side) => boolean;
}

export const useless = ({ report, source }: PackageContext, path: Path, why: string): void =>
  report.absence(
    source.placeOfKey(path),
    'useless-key',
    `\`${pathText(path)}\` can change nothing: ${why}`,
    'leave it out',
  );
