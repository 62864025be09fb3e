/** The layout formats by the names under which they are asked for. */
import type { Placement } from '../../format/placement.ts';
import { nearest } from '../../problems/nearest.ts';
import { failed, found, type Outcome, type Problem } from '../../problems/problem.ts';
import { cellsCsv } from './cells-csv.ts';
import { type DefSettings, def } from './def.ts';
import { gdsii } from './gdsii.ts';
import type { LayerMap } from './layers.ts';
import { verilog } from './verilog.ts';

/** What the user's description says for the layout formats; each format reads its own part. */
export interface LayoutSettings {
  readonly gdsii?: LayerMap | undefined;
  readonly def?: DefSettings | undefined;
}

export interface LayoutFormat {
  readonly name: string;
  /** What it is, for a list of the formats. */
  readonly about: string;
  readonly fileName: string;
  /** The part of the settings without which it cannot be written. */
  readonly needs: 'gdsii' | null;
  readonly write: (placement: Placement, settings: LayoutSettings) => Outcome<string | Uint8Array>;
}

export interface LayoutFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

export const LAYOUT_FORMATS: readonly LayoutFormat[] = [
  {
    name: 'gdsii',
    about: 'GDSII: references to the library cells, bond pads, openings, stems, rails and labels',
    fileName: 'ring.gds',
    needs: 'gdsii',
    write: (placement, settings) => gdsii(placement, settings.gdsii ?? {}),
  },
  {
    name: 'def',
    about: 'DEF 5.8: die area, fixed components, pins and supply nets',
    fileName: 'ring.def',
    needs: null,
    write: (placement, settings) => def(placement, settings.def),
  },
  {
    name: 'verilog',
    about: 'structural Verilog: one module that holds every pad cell',
    fileName: 'ring.v',
    needs: null,
    write: (placement) => verilog(placement),
  },
  {
    name: 'cells',
    about: 'CSV: every placed cell',
    fileName: 'cells.csv',
    needs: null,
    write: (placement) => found(cellsCsv(placement)),
  },
];

/** The formats that a list such as `gdsii,def` names, each once, in this file's order. */
export function chosenFormats(list: string): Outcome<readonly LayoutFormat[]> {
  const names = LAYOUT_FORMATS.map((format) => format.name);
  const asked = list.split(',').map((name) => name.trim());
  const problems = asked
    .filter((name) => !names.includes(name))
    .map((name): Problem => {
      const meant = nearest(name, names);
      const guess = meant === undefined ? '' : `did you mean "${meant}"? `;
      return {
        code: 'unknown-format',
        message: name === '' ? 'a layout format without a name' : `no layout format is named "${name}"`,
        mend: `${guess}there are ${names.join(', ')}`,
      };
    });
  if (problems.length > 0) return failed(...problems);
  return found(LAYOUT_FORMATS.filter((format) => asked.includes(format.name)));
}

/** The files of the chosen formats, or everything that stands against any of them and no file at all. */
export function layoutFiles(
  placement: Placement,
  formats: readonly LayoutFormat[],
  settings: LayoutSettings,
): Outcome<readonly LayoutFile[]> {
  const files: LayoutFile[] = [];
  const problems: Problem[] = [];
  const notes: Problem[] = [];
  for (const format of formats) {
    if (format.needs !== null && settings[format.needs] === undefined) {
      problems.push({
        code: 'layout-settings-missing',
        message: `${format.name} needs a layer map, and the description has none`,
        mend: 'give the layers of bond pads, openings, labels, stems and rails, each a layer and a datatype',
      });
      continue;
    }
    const content = format.write(placement, settings);
    if (!content.ok) problems.push(...content.problems);
    else {
      files.push({ name: format.fileName, content: content.value });
      notes.push(...content.notes);
    }
  }
  return problems.length > 0 ? failed(...problems) : found(files, notes);
}
