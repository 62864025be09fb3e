/**
 * What a key means that the user leaves out: the one place where defaults are set, in the units of the file
 * (micrometres). The schema shows them to editors, the resolver fills them in.
 */
export const DEFAULTS = {
  grid: 0.005,
  shrink: 1,
  die: 'fit',
  edge: { seal: 0, clearance: 0 },
  core: { width: 0, height: 0, clearance: 0 },
  style: 'inline',
  slack: 'shared',
  bondPads: {
    openingSpacing: 0,
    openingInset: 0,
    openingToSeal: { least: 0, most: null },
    toCell: 0,
  },
  /** The row gap and the stems' spacing follow the bond pads' spacing. */
  rows: { overCircuit: 1, first: 'outer', inset: 0 },
  corners: { clearance: 0, pitches: [] },
  numbering: { side: 'left', end: 'first', direction: 'counter-clockwise' },
  entry: { gap: 0, shift: 0, mirrored: false },
} as const;
