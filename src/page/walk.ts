/** The figures of a placement, wherever they stand in it: anything with a value and its working, or not assessed. */
import type { Placement } from '../format/placement.ts';

export interface Working {
  readonly value: number;
  readonly unit: string;
  readonly formula: string;
  readonly source: string;
  readonly inputs: readonly { readonly name: string; readonly value: number; readonly unit: string }[];
}

export type Figure = Working | { readonly notAssessed: string };

export interface FigureRow {
  /** What it is a figure of, such as `drop` or `demands, noise`. */
  readonly what: string;
  readonly figure: Figure;
  readonly limit?: Figure;
}

/** Figures that belong together, under what their neighbours in the file say of them. */
export interface FigureGroup {
  readonly title: string;
  readonly about: readonly (readonly [string, string])[];
  readonly rows: readonly FigureRow[];
}

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A record that is a figure. */
function asFigure(value: unknown): Figure | undefined {
  if (!isFields(value)) return undefined;
  if (typeof value.notAssessed === 'string') return { notAssessed: value.notAssessed };
  const { value: number, unit, formula, source, inputs } = value;
  if (typeof number !== 'number' || typeof unit !== 'string' || typeof formula !== 'string') return undefined;
  return {
    value: number,
    unit,
    formula,
    source: typeof source === 'string' ? source : '',
    inputs: !Array.isArray(inputs)
      ? []
      : inputs.flatMap((input: unknown) =>
          isFields(input) && typeof input.name === 'string' && typeof input.value === 'number'
            ? [
                {
                  name: input.name,
                  value: input.value,
                  unit: typeof input.unit === 'string' ? input.unit : '',
                },
              ]
            : [],
        ),
  };
}

/** All figures of a placement; its geometry has none and is not looked through. */
export function figuresOf(placement: Placement): readonly FigureGroup[] {
  const {
    cells: _cells,
    bondPads: _pads,
    stems: _stems,
    rails: _rails,
    footprints: _prints,
    ...rest
  } = placement;
  const groups: FigureGroup[] = [];
  walk(rest, [], groups);
  return groups;
}

/** A list's members stand for themselves, each with all of its figures; elsewhere each record is a group. */
function walk(value: unknown, path: readonly string[], groups: FigureGroup[]): void {
  if (Array.isArray(value)) {
    const named = value.flatMap((item) => namedFigure(item) ?? []);
    if (named.length > 0) groups.push({ title: spoken(path), about: [], rows: named });
    for (const item of value) if (namedFigure(item) === undefined) walkMember(item, path, groups);
    return;
  }
  if (!isFields(value)) return;
  const rows = figuresIn(value, []);
  if (rows.length > 0) groups.push({ title: spoken(path), about: aboutOf(value), rows });
  for (const [key, below] of Object.entries(value))
    if (asFigure(below) === undefined) walk(below, [...path, key], groups);
}

function walkMember(value: unknown, path: readonly string[], groups: FigureGroup[]): void {
  if (!isFields(value)) {
    walk(value, path, groups);
    return;
  }
  const rows = deepFigures(value, []);
  if (rows.length > 0) groups.push({ title: spoken(path), about: aboutOf(value), rows });
  for (const record of [value, ...recordsIn(value)])
    for (const [key, below] of Object.entries(record))
      if (Array.isArray(below)) walk(below, [...path, key], groups);
}

/** The records within a record, but figures. */
const recordsIn = (value: Fields): readonly Fields[] =>
  Object.values(value).flatMap((below) =>
    isFields(below) && asFigure(below) === undefined ? [below, ...recordsIn(below)] : [],
  );

const figuresIn = (value: Fields, path: readonly string[]): readonly FigureRow[] =>
  Object.entries(value).flatMap(([key, below]) => {
    const figure = asFigure(below);
    return figure === undefined ? [] : [{ what: spoken([...path, key]), figure }];
  });

const deepFigures = (value: Fields, path: readonly string[]): readonly FigureRow[] => [
  ...figuresIn(value, path),
  ...Object.entries(value).flatMap(([key, below]) =>
    isFields(below) && asFigure(below) === undefined ? deepFigures(below, [...path, key]) : [],
  ),
];

/** `{ what, of, figure, limit }`: a figure that brings its own name. */
function namedFigure(value: unknown): FigureRow | undefined {
  if (!isFields(value)) return undefined;
  const [figure, limit] = [asFigure(value.figure), asFigure(value.limit)];
  if (figure === undefined || typeof value.what !== 'string') return undefined;
  const of = typeof value.of === 'string' ? ` ${value.of}` : '';
  return { what: `${value.what}${of}`, figure, ...(limit === undefined ? {} : { limit }) };
}

/** What a record says beside its figures. */
function aboutOf(value: Fields): readonly (readonly [string, string])[] {
  return Object.entries(value).flatMap(([key, item]) => {
    if (typeof item === 'string' || typeof item === 'number') return [[spoken([key]), String(item)] as const];
    if (Array.isArray(item) && item.length > 0 && item.every((one) => typeof one === 'string'))
      return [[spoken([key]), item.join(', ')] as const];
    return [];
  });
}

/** `summary.wireLengths` in words. */
const spoken = (path: readonly string[]): string =>
  path
    .filter((key) => key !== 'summary')
    .map((key) => key.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase())
    .join(', ');
