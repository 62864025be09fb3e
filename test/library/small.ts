/** Small libraries held in memory. */
import { stringify } from 'yaml';
import type { Library } from '../../src/library/footprint.ts';
import { readLibrary } from '../../src/library/read-library.ts';
import { failed, found, type Outcome } from '../../src/problems/problem.ts';

export type Files = Readonly<Record<string, string>>;

/** Reads `cells.yaml` among some files. */
export const readFiles = (files: Files): Outcome<Library> =>
  readLibrary((path) => {
    const text = Object.hasOwn(files, path) ? files[path] : undefined;
    return text === undefined
      ? failed({ code: 'no-file', message: `there is no file ${path}` })
      : found(text);
  }, 'cells.yaml');

export const readCells = (cells: unknown, lef: Files = {}): Outcome<Library> =>
  readFiles({ 'cells.yaml': typeof cells === 'string' ? cells : stringify(cells), ...lef });

export function sound(outcome: Outcome<Library>): Library {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map((p) => p.message).join('\n'));
}

export interface Port {
  readonly pin: string;
  readonly use?: string;
  readonly direction?: string;
  readonly layer?: string;
  /** x1 y1 x2 y2 */
  readonly rects: readonly (readonly number[])[];
}

/** A LEF macro. */
export const macro = (
  name: string,
  classes: string,
  [width, height]: readonly [number, number],
  ports: readonly Port[],
  more = 'SYMMETRY X Y R90 ;',
): string => `MACRO ${name}
  CLASS ${classes} ;
  SIZE ${width} BY ${height} ;
  ${more}
${ports
  .map(
    ({ pin, use = 'POWER', direction = 'INOUT', layer = 'M4', rects }) => `  PIN ${pin}
    DIRECTION ${direction} ;
    USE ${use} ;
    PORT
      LAYER ${layer} ;
${rects.map((r) => `        RECT ${r.join(' ')} ;`).join('\n')}
    END
  END ${pin}`,
  )
  .join('\n')}
END ${name}
`;
