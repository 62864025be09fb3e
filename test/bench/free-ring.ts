/** The text of a ring whose pins are bound to no side, for the benchmark: the invented harbour cells in two sections. */

const SUPPLIES: Readonly<Record<number, string>> = { 0: 'vddio', 1: 'vssio', 10: 'vdd', 11: 'vss' };

/** Every tenth pin or so a supply, the second half of the ring on I/O supplies of its own; `cells` is the cell file's path. */
export function freeRingText(pins: number, cells: string): string {
  const listed = Array.from({ length: pins }, (_, i) => {
    const supply = SUPPLIES[i % 20];
    const valves = 2 * i >= pins;
    const net = valves && supply?.endsWith('io') === true ? `${supply.slice(0, 3)}v` : supply;
    const pin =
      supply === undefined ? `{pin: P${i}, cell: io_bi` : `{pin: S${i}, net: ${net}, cell: ${supply}`;
    return `    - ${pin}, section: ${valves ? 'valves' : 'main'}}`;
  });
  const section = (name: string, io: string): string => `  ${name}:
    lanes: {VDD: vdd, VSS: vss, VDDIO: vdd${io}, VSSIO: vss${io}}
    pairs: [{supply: VDD, ground: VSS}, {supply: VDDIO, ground: VSSIO}]`;
  return `ring: free-${pins}
cells: ${cells}
die: fit
edge: {street: 40, seal: 10, clearance: 10}
core: {width: 1300, height: 1300, clearance: 20}
style: staggered
bondPads:
  kinds: {plain: {along: 60, deep: 70, opening: {along: 52, deep: 62}}}
  pitch: 70
  spacing: 10
  openingInset: 4
  toCell: 3
rows: {gap: 12, first: outer}
stems: {width: 12, spacing: 4, layers: [M6]}
corners: {clearance: 150}
sections:
${section('main', 'io')}
${section('valves', 'v')}
order:
  cells:
${listed.join('\n')}
`;
}
