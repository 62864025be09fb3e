/**
 * Colours and dashes of the drawings, chosen for this program. No meaning hangs on colour alone: lanes differ in
 * their dashes, sections in their bars, roles in their marks, and neighbours in every list differ in lightness
 * too, so that a colour-blind reader or a grey print loses nothing.
 */

export const PAPER = '#ffffff';

export const INK = {
  text: '#17242b',
  quiet: '#4d5c63',
  line: '#2b3a41',
  hair: '#8a979c',
  seal: '#dfe3e4',
  alarm: '#9c1c3c',
} as const;

/** Fill and outline of a cell by its role. */
export const CELL: Readonly<Record<string, { readonly fill: string; readonly stroke: string }>> = {
  signal: { fill: '#eef3f2', stroke: '#5d6c70' },
  analog: { fill: '#dcecef', stroke: '#35636e' },
  supply: { fill: '#f3dcae', stroke: '#7a5410' },
  clamp: { fill: '#e4d6e8', stroke: '#5b3a66' },
  control: { fill: '#dfe8c8', stroke: '#4f6122' },
  macro: { fill: '#e3e4e8', stroke: '#474b59' },
  break: { fill: '#ffffff', stroke: '#9c1c3c' },
  filler: { fill: '#fbfbfa', stroke: '#c3cacc' },
  corner: { fill: '#eceeed', stroke: '#7d898d' },
};

/** Metal of a bond pad by what its net is. */
export const PAD: Readonly<Record<'signal' | 'supply' | 'ground', string>> = {
  signal: '#a9b9bd',
  supply: '#c9822b',
  ground: '#3d4a52',
};

export const STEM = '#8fa3a8';

/** Bond fingers: of the first tier, of the second, and their outline. */
export const FINGER = { first: '#e6dfcf', second: '#c9bfa6', stroke: '#6f6651' } as const;

/** Bond wires by what their nets are; their pads tell the same by sign. */
export const WIRE: Readonly<Record<'signal' | 'supply' | 'ground', string>> = {
  signal: '#4a8794',
  supply: '#b5651d',
  ground: '#2b3a41',
};

/** Wires by their loop height, the lowest first: dashes in millimetres. */
export const WIRE_DASHES: readonly (string | undefined)[] = [undefined, '2.6 0.9', '1 0.9', '4 0.8 0.8 0.8'];

/** Lanes by their place in the ring: dashes are in units of the line's width, and no two are alike. */
export const LANES: readonly { readonly colour: string; readonly dashes: readonly number[] }[] = [
  { colour: '#0f5c6e', dashes: [] },
  { colour: '#b5651d', dashes: [7, 2.5] },
  { colour: '#5a3f8f', dashes: [1.2, 2.2] },
  { colour: '#c0679b', dashes: [9, 2, 1.2, 2] },
  { colour: '#5c7a14', dashes: [4, 4] },
  { colour: '#2f86b5', dashes: [9, 2, 1.2, 2, 1.2, 2] },
  { colour: '#4a4a4a', dashes: [14, 3] },
  { colour: '#a87b00', dashes: [3, 1.5, 1.2, 1.5] },
];

/** Sections by their place in the list: bars with other dashes than the lanes', in units of the bar's width. */
export const SECTIONS: readonly { readonly colour: string; readonly dashes: readonly number[] }[] = [
  { colour: '#33566b', dashes: [] },
  { colour: '#b98a3a', dashes: [3, 0.7] },
  { colour: '#7a5d8c', dashes: [1, 0.6] },
  { colour: '#5f7d4f', dashes: [5, 0.6, 1, 0.6] },
  { colour: '#a6566b', dashes: [2, 2] },
  { colour: '#6b6b6b', dashes: [6, 0.6, 0.6, 0.6, 0.6, 0.6] },
];

/** A member of a list that goes round. */
export function taken<T>(list: readonly T[], at: number, fallback: T): T {
  return list[at % list.length] ?? fallback;
}
