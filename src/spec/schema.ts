/**
 * The keys of a ring description and what each one says: the one source of what is accepted, of the errors' words and
 * of the JSON Schema that editors use. Nothing is filled in here, so that the resolver knows what was written.
 */
import { z } from 'zod';
import { SIDES } from '../geometry/side.ts';
import { length, positiveLength, signedLength } from '../source/length.ts';
import { DEFAULTS } from './defaults.ts';
import { electricalSchema } from './electrical-schema.ts';
import { layoutSchema } from './layout.ts';
import { dieSchema, orderSchema } from './order-schema.ts';
import { packageSchema } from './package-schema.ts';
import { SLACKS, STYLES } from './ring.ts';
import { about, name, names } from './words.ts';

/** A bond-pad kind's name begins with a letter, so that the kinds keep the order in which they are written. */
const kindName = name().regex(/^\p{L}/u, 'must begin with a letter');

const sideWord = z.enum(SIDES);
const rowWord = z.enum(['outer', 'inner']);

/** One word for the whole ring, or a word by side; `default` is for the sides that are not named. */
function bySide<T extends readonly [string, ...string[]]>(words: T, what: string) {
  const word = (side: string) =>
    z
      .enum(words)
      .optional()
      .meta(about(`${what} of ${side}`));
  return z.union([
    z.enum(words),
    z.strictObject({
      default: word('the sides that are not named here'),
      left: word('the left side'),
      bottom: word('the bottom side'),
      right: word('the right side'),
      top: word('the top side'),
    }),
  ]);
}

const edgeSchema = z.strictObject({
  street: length().meta(about("the die's share of the sawing street, from the die edge inward, drawn")),
  seal: length().optional().meta(about('the width of the seal ring inside the street', DEFAULTS.edge.seal)),
  clearance: length()
    .optional()
    .meta(about('what is kept free between the seal ring and the ring', DEFAULTS.edge.clearance)),
});

const coreSchema = z.strictObject({
  width: length().optional().meta(about("the core's least width", DEFAULTS.core.width)),
  height: length().optional().meta(about("the core's least height", DEFAULTS.core.height)),
  clearance: length()
    .optional()
    .meta(about('what is kept free between the ring and the core, on each side', DEFAULTS.core.clearance)),
});

const openingSchema = z.strictObject({
  along: positiveLength().meta(about('along the side')),
  deep: positiveLength().meta(about('across the side')),
});

const kindSchema = z.strictObject({
  along: positiveLength().meta(about("the metal's extent along the side, drawn")),
  deep: positiveLength().meta(about("the metal's extent across the side, drawn")),
  opening: openingSchema.meta(about('the opening in the passivation, centred on the metal, drawn')),
});

const ON_SILICON = 'on silicon';

const bondPadsSchema = z.strictObject({
  kinds: z
    .record(kindName, kindSchema)
    .optional()
    .meta(about('the kinds of bond pad by name; the first one is taken where a pin names none')),
  pitch: length().meta(about(`the least pitch of neighbouring pads of one row, ${ON_SILICON}`)),
  spacing: length().meta(about(`the least distance from pad metal to pad metal, ${ON_SILICON}`)),
  openingSpacing: length()
    .optional()
    .meta(
      about(`the least distance from opening to opening, ${ON_SILICON}`, DEFAULTS.bondPads.openingSpacing),
    ),
  openingInset: length()
    .optional()
    .meta(about(`the least metal beyond the opening, ${ON_SILICON}`, DEFAULTS.bondPads.openingInset)),
  openingToSeal: z
    .strictObject({
      least: length().optional().meta(about('the least distance', DEFAULTS.bondPads.openingToSeal.least)),
      most: length().optional().meta(about('the largest distance; none where left out')),
    })
    .optional()
    .meta(about(`from an opening to the seal ring's inner edge, ${ON_SILICON}`)),
  toCell: length()
    .optional()
    .meta(
      about('the gap between a bond pad outside the cells and the cells, drawn', DEFAULTS.bondPads.toCell),
    ),
});

const rowsSchema = z.strictObject({
  overCircuit: z
    .literal([1, 2])
    .optional()
    .meta(about('how many rows lie over the cells of an over-circuit side', DEFAULTS.rows.overCircuit)),
  gap: length()
    .optional()
    .meta(about("the gap between the outer and the inner row, drawn; the bond pads' spacing if left out")),
  first: rowWord
    .optional()
    .meta(about('the row of the first pad of a side; the others take turns', DEFAULTS.rows.first)),
  inset: length()
    .optional()
    .meta(
      about(
        "from the cells' outward edge to the outer row of an over-circuit side, drawn",
        DEFAULTS.rows.inset,
      ),
    ),
});

const stemsSchema = z.strictObject({
  width: positiveLength().meta(about('the width of the metal from a bond pad to its cell, drawn')),
  spacing: length()
    .optional()
    .meta(
      about("the least distance from a stem to a pad that is not its own, drawn; the bond pads' if left out"),
    ),
  layers: names().meta(about('the layers that a stem is drawn on')),
});

const cornersSchema = z.strictObject({
  cell: name().optional().meta(about('the corner cell; may be left out where the library has just one')),
  clearance: length()
    .optional()
    .meta(
      about(
        `the least distance along the side of a pad's centre to the die corner, ${ON_SILICON}`,
        DEFAULTS.corners.clearance,
      ),
    ),
  pitches: z
    .array(
      z.strictObject({
        pads: z.int().min(1).max(10_000).meta(about('for so many pads from the corner')),
        pitch: positiveLength().meta(about(`the least pitch from each of them to the next, ${ON_SILICON}`)),
      }),
    )
    .optional()
    .meta(about('wider least pitches near the corners, where wires fan out')),
});

const numberingSchema = z.strictObject({
  side: sideWord.optional().meta(about('the side of pad number 1', DEFAULTS.numbering.side)),
  end: z
    .enum(['first', 'last'])
    .optional()
    .meta(
      about('whether it is the first or the last of that side, counter-clockwise', DEFAULTS.numbering.end),
    ),
  direction: z
    .enum(['counter-clockwise', 'clockwise'])
    .optional()
    .meta(about('which way the numbers run', DEFAULTS.numbering.direction)),
});

const sectionSchema = z.strictObject({
  lanes: z.record(name(), name()).meta(about('the net on each lane that the cells carry')),
  pairs: z
    .array(
      z.strictObject({
        supply: name().meta(about('a lane')),
        ground: name().meta(about('its ground, a lane too')),
      }),
    )
    .min(1)
    .meta(about('which lanes are supply and ground of each other')),
});

export const entrySchema = z.strictObject({
  pin: name().optional().meta(about("the pin at the cell's landing; left out for a cell without a landing")),
  pins: z
    .record(name(), name())
    .optional()
    .meta(about('for a cell with several landings: the pin at each, by the name of the landing')),
  cell: name().meta(about("the cell's name in the cell file")),
  section: name().optional().meta(about('its section; may be left out where there is just one')),
  net: name()
    .optional()
    .meta(about("the pin's net; left out: the lane's net for a supply pin, its own name for another")),
  nets: z
    .record(name(), name())
    .optional()
    .meta(about('for a cell with several landings: nets by the name of the landing')),
  at: length()
    .optional()
    .meta(about("where the cell's first edge must stand: the distance along the side from the die corner")),
  gap: length()
    .optional()
    .meta(about('the least gap before the cell, counter-clockwise', DEFAULTS.entry.gap)),
  row: rowWord.optional().meta(about('the row of its bond pad; left out: the rows take turns')),
  shift: signedLength()
    .optional()
    .meta(about('how far the bond pad stands along the side from its landing', DEFAULTS.entry.shift)),
  mirrored: z.boolean().optional().meta(about('whether the cell stands mirrored', DEFAULTS.entry.mirrored)),
  bondPad: name().optional().meta(about('the kind of its bond pad, or `none`; left out: the first kind')),
  tied: z
    .record(name(), z.literal([0, 1]))
    .optional()
    .meta(about('inputs toward the core that are held at 0 or 1, by their names')),
});

const sideList = (which: string): z.ZodOptional<z.ZodArray<typeof entrySchema>> =>
  z.array(entrySchema).optional().meta(about(which));

const sidesSchema = z.strictObject({
  left: sideList('the cells of the left side, from its upper end down'),
  bottom: sideList('the cells of the bottom side, from left to right'),
  right: sideList('the cells of the right side, from its lower end up'),
  top: sideList('the cells of the top side, from right to left'),
});

const neighbourSchema = z
  .strictObject({
    together: z.array(name()).min(2).optional().meta(about('pins that stand side by side')),
    apart: names().optional().meta(about('pins that keep a distance `from` others')),
    from: names().optional().meta(about('with `apart`: the pins that they keep it from')),
    distance: positiveLength()
      .optional()
      .meta(about('with `apart`: the distance from bond pad to bond pad, centre to centre')),
    besideGround: names()
      .optional()
      .meta(about('supply nets whose supply cells each stand next to a cell of their ground')),
    signalsBetweenGrounds: z
      .int()
      .nonnegative()
      .max(100_000)
      .optional()
      .meta(about('how many signal pads may lie between two ground pads of a section')),
    sections: names()
      .optional()
      .meta(about('with `signalsBetweenGrounds`: the sections that it holds for; left out: all')),
  })
  .meta({
    description: 'what neighbouring bond pads owe each other: one rule an entry',
    oneOf: [
      { required: ['together'] },
      { required: ['apart', 'from', 'distance'] },
      { required: ['besideGround'] },
      { required: ['signalsBetweenGrounds'] },
    ],
  });

const waiverSchema = z.strictObject({
  rule: name().meta(about('the rule whose errors are waived')),
  items: names().meta(about('the names in the finding that it holds for')),
  reason: z.string().trim().min(1).max(1000).meta(about('why; every report shows it')),
});

export const ringSchema = z
  .strictObject({
    ring: name().meta(about("the ring's name")),
    cells: z.string().min(1).max(1000).meta(about('the cell file, by its place relative to this file')),
    grid: positiveLength()
      .optional()
      .meta(about('the manufacturing grid: every edge lies on a multiple of it', DEFAULTS.grid)),
    shrink: z
      .number()
      .min(0.01)
      .max(1)
      .optional()
      .meta(
        about(
          'the factor from what is drawn to silicon; what is said on silicon is divided by it',
          DEFAULTS.shrink,
        ),
      ),
    die: dieSchema
      .optional()
      .meta(
        about(
          'the die: width and height, or one of them, or `fit`, the least that holds ring and core',
          DEFAULTS.die,
        ),
      ),
    edge: edgeSchema.meta(about('what lies between the die edge and the ring')),
    core: coreSchema.optional().meta(about('the room that the ring leaves for the core')),
    style: bySide(STYLES, 'the style')
      .optional()
      .meta(about('how bond pads and cells stand: for the ring, or by side', DEFAULTS.style)),
    slack: bySide(SLACKS, 'where what stays over goes, along the cells')
      .optional()
      .meta(about('where what stays over on a side goes: for the ring, or by side', DEFAULTS.slack)),
    bondPads: bondPadsSchema.meta(about("the bond pads' sizes and the assembly house's limits for them")),
    rows: rowsSchema.optional().meta(about('how two rows of bond pads, or pads over circuit, lie')),
    stems: stemsSchema
      .optional()
      .meta(about('the metal from the bond pads outside the cells to their cells')),
    corners: cornersSchema.optional().meta(about('the corner cell, and what holds near the corners')),
    numbering: numberingSchema.optional().meta(about('where pad number 1 is and which way numbers run')),
    fillers: names().optional().meta(about('the fillers that may be used; left out: all of the library')),
    breaks: names().optional().meta(about('the break cells that may be set; left out: all of the library')),
    sections: z
      .record(name(), sectionSchema)
      .meta(about('the sections by name: runs of cells with one net on each lane')),
    sides: sidesSchema
      .optional()
      .meta(about('the cells of each side in counter-clockwise order; a side left out is empty')),
    pins: z
      .string()
      .min(1)
      .max(1000)
      .optional()
      .meta(about('instead of `sides`: a CSV file with a row a cell, relative to this file')),
    order: orderSchema(entrySchema)
      .optional()
      .meta(about('instead of `sides`: the ring as one list, which is cut into the sides for the least die')),
    package: packageSchema
      .optional()
      .meta(about('the package: bond fingers, which pin goes to which, and limits for the wires')),
    electrical: electricalSchema
      .optional()
      .meta(about('what the ring has to carry, and the budgets that it is held to')),
    layout: layoutSchema.optional().meta(about('what `build --write` needs for the layout formats')),
    neighbours: z.array(neighbourSchema).optional().meta(about('what neighbours owe each other')),
    severities: z
      .record(name(), z.enum(['error', 'warning', 'note']))
      .optional()
      .meta(about('how severe a broken rule is, by the name of the rule; a rule that is an error stays one')),
    waivers: z.array(waiverSchema).optional().meta(about('errors that are accepted, each with its reason')),
  })
  .meta({
    title: 'Ringwright ring description',
    description: 'what the I/O ring of a chip is made of; lengths are micrometres',
    oneOf: [{ required: ['sides'] }, { required: ['pins'] }, { required: ['order'] }],
  });

export type RingText = z.output<typeof ringSchema>;
/** The keys that could be read where others could not. */
export type KnownText = { readonly [K in keyof RingText]?: RingText[K] | undefined };
export type EntryText = z.output<typeof entrySchema>;
export type NeighbourText = z.output<typeof neighbourSchema>;

/** The description's schema as JSON Schema, draft 2020-12, for editors. */
export const ringJsonSchema = (): object =>
  z.toJSONSchema(ringSchema, { io: 'input', target: 'draft-2020-12' });
