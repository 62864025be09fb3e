/** The parts of the drawing that can be hidden, by purpose. */

export const PARTS = [
  ['cells', 'Cells'],
  ['pads', 'Pads'],
  ['stems', 'Stems'],
  ['rails', 'Rails'],
  ['sections', 'Sections'],
  ['breaks', 'Breaks'],
  ['core', 'Core'],
  ['names', 'Names'],
  ['findings', 'Findings'],
] as const;

export type Part = (typeof PARTS)[number][0];

export type Shown = Readonly<Record<Part, boolean>>;

export const ALL_SHOWN: Shown = {
  cells: true,
  pads: true,
  stems: true,
  rails: true,
  sections: true,
  breaks: true,
  core: true,
  names: true,
  findings: true,
};
