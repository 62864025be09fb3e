/**
 * The placement file: the neutral JSON that layout scripts read, and a promise. A field here keeps its name and
 * meaning within a format version; new fields may be added, so a reader passes over those that it does not know.
 * Lengths are micrometres, axes the die's, lower-left corner (0, 0).
 */
import { z } from 'zod';
import {
  coreStripsSchema,
  electricalRulesSchema,
  electricalSummarySchema,
  footprintElectricalSchema,
} from './electrical.ts';
import { packageSchema, wireSummarySchema } from './package.ts';

export const FORMAT = 'ringwright-placement';
export const VERSION = 1;

const text = z.string().min(1).max(200);
const number = z.number();
const length = z.number().nonnegative();
const extent = z.number().positive();
const count = z.int().nonnegative();

const sideSchema = z.enum(['left', 'bottom', 'right', 'top']);
const styleSchema = z.enum(['inline', 'staggered', 'over-circuit', 'in-cell']);
const roleSchema = z.enum([
  'signal',
  'analog',
  'supply',
  'clamp',
  'control',
  'macro',
  'break',
  'filler',
  'corner',
]);
export const rowSchema = z.enum(['single', 'outer', 'inner']);
const severitySchema = z.enum(['error', 'warning', 'note']);
const turn = z.literal([0, 90, 180, 270]);
const size = z.object({ width: extent, height: extent });
const pair = z.object({ supply: text, ground: text });

const rulesSchema = z
  .object({
    edge: z.object({ street: length, seal: length, clearance: length }),
    core: z.object({ width: length, height: length, clearance: length }),
    shrink: z.number().positive().max(1).describe('silicon is drawn times this'),
    pads: z.object({
      pitch: length.describe('least pitch of one row, centre to centre'),
      spacing: length.describe('least bond-pad metal to metal'),
      openingSpacing: length.describe('least opening to opening'),
      openingInset: length.describe('least metal beyond the opening'),
      openingToSeal: z.object({ least: length, most: length.nullable() }),
      toCell: length.describe('from an outside bond pad to the cells'),
      kinds: z
        .array(
          z.object({
            name: text,
            along: extent,
            deep: extent,
            opening: z.object({ along: extent, deep: extent }),
          }),
        )
        .optional()
        .describe('the kinds that a bond pad which no cell contains may be of; written always'),
    }),
    rows: z.object({
      overCircuit: z.literal([1, 2]),
      gap: length,
      first: z.enum(['outer', 'inner']),
      inset: length,
    }),
    stems: z.object({ width: length, spacing: length, layers: z.array(text) }),
    corners: z.object({
      clearance: length.describe('least distance along the side of a pad centre to the die corner'),
      pitches: z.array(z.object({ pads: count, pitch: extent })),
    }),
    neighbours: z.array(
      z.discriminatedUnion('kind', [
        z.object({ kind: z.literal('together'), pins: z.array(text) }),
        z.object({ kind: z.literal('apart'), pins: z.array(text), from: z.array(text), distance: extent }),
        z.object({ kind: z.literal('beside-ground'), nets: z.array(text) }),
        z.object({ kind: z.literal('signals-between-grounds'), most: count, sections: z.array(text) }),
      ]),
    ),
    severities: z.record(z.string(), severitySchema),
    waivers: z.array(z.object({ rule: text, items: z.array(text), reason: text })),
    electrical: electricalRulesSchema.optional(),
  })
  .describe('the limits that the ring was built to, drawn');

const footprintSchema = z
  .object({
    name: text,
    role: roleSchema,
    width: extent.describe("extents of the library's own drawing, before any turn"),
    height: extent,
    drawnFor: sideSchema.describe(
      'the side where the drawing stands unturned; a corner: the side it follows',
    ),
    setback: length.describe("outward edge inward from the row's"),
    landings: z.array(
      z.object({
        name: text,
        at: number.describe("centre along s from the cell's start edge, unmirrored"),
        feeds: z.array(text).describe('lanes that a bond pad here joins'),
        inside: z
          .object({
            t: number,
            along: extent,
            deep: extent,
            opening: z.object({ along: extent, deep: extent }),
          })
          .nullable()
          .describe('the bond pad that the cell contains, or null'),
      }),
    ),
    lanes: z.array(
      z.object({
        lane: text,
        strips: z.array(
          z.object({
            layer: text,
            from: length.describe('extent along t from the outward edge'),
            to: length,
            edges: z.enum(['both', 'start', 'end']),
            carry: z.enum(['through', 'cut']),
          }),
        ),
      }),
    ),
    ties: z.array(z.array(text)),
    clamps: z.array(pair),
    diodes: z.array(text),
    standsAlone: z.boolean(),
    padOnTop: z.boolean(),
    turns: z.object({ plain: z.array(turn), mirrored: z.array(turn) }),
    onVertical: text.nullable(),
    perSection: z.object({ least: count, most: count.nullable() }).nullable(),
    needs: z.array(text),
    signals: z
      .array(z.object({ name: text, direction: z.enum(['input', 'output', 'inout']) }))
      .optional()
      .describe("the cell's signal pins toward the core"),
    rating: extent.optional().describe('direct current in mA that it may carry from its bond pad'),
    straps: z
      .array(z.object({ lane: text, layer: text, at: number, width: extent, t: number }))
      .optional()
      .describe('where straps from the core land: centre along s, width, inner end along t'),
    electrical: footprintElectricalSchema.optional(),
  })
  .describe(
    'a footprint of the cell library, in its own frame: s from the start edge, t from the outward edge',
  );

export const findingSchema = z.object({
  rule: text,
  severity: severitySchema,
  message: z.string(),
  items: z.array(z.string()),
  x: number.optional(),
  y: number.optional(),
  waived: z.string().optional().describe('the reason of the waiver that applies'),
});

const sideCounts = z.object({
  side: sideSchema,
  style: styleSchema,
  cells: count,
  bondPads: count,
  length: length.describe('between the corner cells'),
  filled: length.describe("the fillers' part of it"),
});

const cellSchema = z.object({
  name: text,
  footprint: text,
  role: roleSchema,
  side: sideSchema.nullable().describe('null for a corner cell'),
  x: number,
  y: number,
  width: extent,
  height: extent,
  rotation: turn,
  mirrored: z.boolean(),
  origin: z.object({ x: number, y: number }),
  section: text.nullable().describe('null for a break cell'),
  pins: z.array(text).optional(),
  tied: z
    .record(z.string(), z.literal([0, 1]))
    .optional()
    .describe('signals toward the core that the description holds at a constant'),
});

const pinSchema = z
  .object({
    name: text,
    net: text,
    section: text,
    footprint: text.describe('of its cell, as it was asked for'),
    landing: text,
    bonded: z.boolean(),
    kind: text
      .optional()
      .describe('of its bond pad, in rules.pads.kinds; left out where the cell contains it or it has none'),
    fingers: z
      .array(text.nullable())
      .optional()
      .describe('where there is a package: the fingers that its wires go to, null for the paddle'),
  })
  .describe('a pin as it was asked for; several supply pads may share a name, and each has its entry');

const askedSchema = z
  .object({
    side: sideSchema,
    footprint: text,
    section: text,
    pins: z.array(text).optional(),
    at: length.optional().describe('where its start edge must stand along the side, from the die corner'),
    gap: length.optional().describe('the least gap before it'),
    row: z.enum(['outer', 'inner']).optional().describe('the row of its bond pads'),
    shift: number.optional().describe('of its bond pads along the side; none where it is left out'),
    tied: z.record(z.string(), z.literal([0, 1])).optional(),
  })
  .describe('a cell as it was asked for; break cells, fillers and corner cells are set by the program');

const bondPadSchema = z.object({
  number: z.int().positive(),
  pin: text,
  net: text,
  cell: text,
  landing: text,
  side: sideSchema,
  row: rowSchema,
  x: number,
  y: number,
  width: extent,
  height: extent,
  opening: size,
  shift: number.optional().describe('along s from the landing; none where it is left out'),
});

const rectangle = z.object({ layer: text, x: number, y: number, width: extent, height: extent });

export const placementSchema = z
  .object({
    format: z.literal(FORMAT),
    version: z.literal(VERSION),
    ring: text,
    units: z.object({ length: z.literal('um'), grid: extent }),
    numbering: z.object({
      start: z.object({ side: sideSchema, end: z.enum(['first', 'last']) }),
      direction: z.enum(['counter-clockwise', 'clockwise']),
    }),
    rules: rulesSchema,
    nets: z.array(z.object({ name: text, kind: z.enum(['supply', 'ground', 'signal']) })),
    sections: z.array(z.object({ name: text, lanes: z.record(z.string(), text), pairs: z.array(pair) })),
    footprints: z.array(footprintSchema),
    pins: z.array(pinSchema).optional().describe('the pin list as asked for; written always'),
    asked: z
      .array(askedSchema)
      .optional()
      .describe('the cells as they were asked for, side by side and along each; written always'),
    die: size,
    core: z.object({ x: number, y: number, width: length, height: length }),
    sides: z.array(sideCounts),
    cells: z.array(cellSchema),
    bondPads: z.array(bondPadSchema),
    stems: z.array(
      z.object({
        bondPad: z.int().positive(),
        layers: z.array(text),
        x: number,
        y: number,
        width: extent,
        height: extent,
      }),
    ),
    rails: z.array(
      z.object({
        lane: text,
        net: text,
        closed: z.boolean(),
        rectangles: z.array(rectangle),
        supplies: z.array(text),
        cells: count,
      }),
    ),
    partings: z.array(
      z.object({ cell: text, lanes: z.array(text), between: z.tuple([text, text]).describe('sections') }),
    ),
    findings: z.array(findingSchema),
    summary: z.object({
      roles: z.partialRecord(roleSchema, count),
      pitches: z.array(z.object({ side: sideSchema, least: number.nullable(), greatest: number.nullable() })),
      area: z.object({ die: number, core: number }).describe('square micrometres'),
      limits: z.object({
        width: z.enum(['pads', 'core', 'given']),
        height: z.enum(['pads', 'core', 'given']),
      }),
      wires: wireSummarySchema.optional().describe('where there is a package'),
      electrical: electricalSummarySchema.optional(),
    }),
    package: packageSchema.optional(),
    coreStrips: coreStripsSchema.optional(),
  })
  .describe('Ringwright placement file, version 1');

/** What the writer has filled in; every array and object is plain immutable data. */
export type Placement = DeepReadonly<z.infer<typeof placementSchema>>;
export type PlacedCell = Placement['cells'][number];
export type BondPad = Placement['bondPads'][number];
export type ListedPin = NonNullable<Placement['pins']>[number];
export type AskedCell = NonNullable<Placement['asked']>[number];
export type Stem = Placement['stems'][number];
export type Rail = Placement['rails'][number];
export type Finding = Placement['findings'][number];
export type PlacedFootprint = Placement['footprints'][number];
export type Rules = Placement['rules'];
export type PlacedPackage = NonNullable<Placement['package']>;
export type ElectricalRules = NonNullable<Rules['electrical']>;
export type ElectricalSummary = NonNullable<Placement['summary']['electrical']>;
export type CoreStrip = NonNullable<Placement['coreStrips']>[number];
export type WireSummary = NonNullable<Placement['summary']['wires']>;

type DeepReadonly<T> = T extends readonly (infer U)[]
  ? T extends readonly [infer A, infer B]
    ? readonly [DeepReadonly<A>, DeepReadonly<B>]
    : readonly DeepReadonly<U>[]
  : T extends object
    ? { readonly [K in keyof T]: DeepReadonly<T[K]> }
    : T;
