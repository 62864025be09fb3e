/** The layout formats by the names under which they are asked for. */
import type { Placement } from '../../format/placement.ts';
import { listed } from '../../problems/listed.ts';
import { nearest } from '../../problems/nearest.ts';
import { failed, found, type Outcome, type Problem } from '../../problems/problem.ts';
import { cellsCsv } from './cells-csv.ts';
import { type DefSettings, def, FOREIGN as NOT_IN_DEF } from './def.ts';
import { gdsii, NO_NAME_CHARACTER } from './gdsii.ts';
import type { LayerMap } from './layers.ts';
import { NOT_PRINTABLE } from './names.ts';
import { FOREIGN as NOT_IN_VERILOG } from './netlist.ts';
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
  /** The signs that it cannot have in names of pins and of library cells; null where it takes them as they are. */
  readonly foreign: { readonly pins: RegExp; readonly cells: RegExp } | null;
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
    foreign: { pins: NOT_PRINTABLE, cells: NO_NAME_CHARACTER },
    write: (placement, settings) => gdsii(placement, settings.gdsii ?? {}),
  },
  {
    name: 'def',
    about: 'DEF 5.8: die area, fixed components, pins and supply nets',
    fileName: 'ring.def',
    needs: null,
    foreign: { pins: NOT_IN_DEF, cells: NOT_IN_DEF },
    write: (placement, settings) => def(placement, settings.def),
  },
  {
    name: 'verilog',
    about: 'structural Verilog: one module that holds every pad cell',
    fileName: 'ring.v',
    needs: null,
    foreign: { pins: NOT_IN_VERILOG, cells: NOT_IN_VERILOG },
    write: (placement) => verilog(placement),
  },
  {
    name: 'cells',
    about: 'CSV: every placed cell',
    fileName: 'cells.csv',
    needs: null,
    foreign: null,
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

/** Names told one by one where a format writes others for them. */
const TOLD = 4;

/** Pins and library cells that go by another name in a format's file; whoever reads it looks for the name that it has. */
function otherNames(placement: Placement, { foreign, fileName }: LayoutFormat): readonly Problem[] {
  if (foreign === null) return [];
  const holds = (signs: RegExp) => (name: string) => name.search(signs) < 0;
  const names = new Set([
    ...placement.bondPads.map(({ pin }) => pin).filter((name) => !holds(foreign.pins)(name)),
    ...placement.cells.map(({ footprint }) => footprint).filter((name) => !holds(foreign.cells)(name)),
  ]);
  if (names.size === 0) return [];
  const told = listed(
    [...names].map((name) => `"${name}"`),
    TOLD,
  );
  return [
    {
      code: 'name-not-kept',
      message: `${fileName} cannot hold every sign of ${told}, and has \`_\` in its place`,
      mend: 'rename pins and library cells that have to be found there by name',
    },
  ];
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
      notes.push(...content.notes, ...otherNames(placement, format));
    }
  }
  return problems.length > 0 ? failed(...problems) : found(files, notes);
}
