/**
 * The drawing's colours on a dark page: each colour of the palette has a partner of the same hue, as far from the dark
 * paper as the first is from the white one. The drawing keeps its attributes; the page's style overrides them.
 */
import { CELL, INK, LANES, PAD, PAPER, SECTIONS, STEM } from '../palette.ts';

const DARK = {
  paper: '#1a2124',
  stem: '#6d8288',
  ink: {
    text: '#e3e9e7',
    quiet: '#a8b4b6',
    line: '#c3ced0',
    hair: '#6c7a7f',
    seal: '#2c3539',
    alarm: '#ff8ba2',
  } satisfies Record<keyof typeof INK, string>,
  cells: {
    signal: { fill: '#263033', stroke: '#83949a' },
    analog: { fill: '#1d3a41', stroke: '#7fb6c2' },
    supply: { fill: '#54401a', stroke: '#d8aa5c' },
    clamp: { fill: '#3d2c45', stroke: '#bd97c9' },
    control: { fill: '#333f1e', stroke: '#a9c06c' },
    macro: { fill: '#2f323b', stroke: '#9ba1b3' },
    filler: { fill: '#1f2629', stroke: '#414c50' },
    corner: { fill: '#293033', stroke: '#76848a' },
  } as Readonly<Record<string, { readonly fill: string; readonly stroke: string }>>,
  pads: { signal: '#7c8f95', supply: '#e0a04d', ground: '#c7d3d8' } satisfies Record<
    keyof typeof PAD,
    string
  >,
  lanes: ['#5fc0d6', '#eb9a52', '#b39be8', '#e693c2', '#aecb5b', '#74bde6', '#b5b5b5', '#e2b93b'],
  sections: ['#86b1cb', '#dfb468', '#bd9fd1', '#a0c48c', '#e092a6', '#aaaaaa'],
} as const;

/** Light and dark, colour by colour; of two partners for one colour the first stands. */
export function partners(): ReadonlyMap<string, string> {
  const pairs: (readonly [string, string | undefined])[] = [
    [PAPER, DARK.paper],
    [STEM, DARK.stem],
    ...keysOf(INK).map((key) => [INK[key], DARK.ink[key]] as const),
    ...keysOf(PAD).map((key) => [PAD[key], DARK.pads[key]] as const),
    ...Object.entries(CELL).flatMap(([role, { fill, stroke }]) => [
      [fill, DARK.cells[role]?.fill] as const,
      [stroke, DARK.cells[role]?.stroke] as const,
    ]),
    ...LANES.map(({ colour }, i) => [colour, DARK.lanes[i]] as const),
    ...SECTIONS.map(({ colour }, i) => [colour, DARK.sections[i]] as const),
  ];
  const found = new Map<string, string>();
  for (const [light, dark] of pairs) if (dark !== undefined && !found.has(light)) found.set(light, dark);
  return found;
}

const keysOf = <K extends string>(record: Readonly<Record<K, unknown>>): readonly K[] =>
  Object.keys(record) as K[];

/**
 * The rules of a style sheet that give the drawing its colours on either page. They name no ancestor: shapes that are
 * stamped by reference match by themselves only.
 */
export const drawingStyle = (): string =>
  [...partners()]
    .flatMap(([light, dark]) =>
      ['fill', 'stroke'].map((kind) => `[${kind}="${light}"]{${kind}:light-dark(${light},${dark})}`),
    )
    .join('\n');
