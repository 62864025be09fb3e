/**
 * The cell file: what a library's cells are, written once per technology. Cells that a LEF file draws need only what
 * LEF does not say; the others are described whole.
 */
import { z } from 'zod';
import { SIDES } from '../geometry/side.ts';
import { length, positiveAmount, positiveLength } from '../source/length.ts';
import { name } from '../source/name.ts';
import { ROLES } from './footprint.ts';

const NAME = name();

const about = <S extends z.ZodType>(schema: S, text: string): S => schema.describe(text) as S;

const turn = z.literal([0, 90, 180, 270]);
const turnsSchema = z.strictObject({
  plain: about(z.array(turn).default([]), 'turns in degrees, counter-clockwise, of the drawing as it is'),
  mirrored: about(z.array(turn).default([]), 'turns of the drawing mirrored first, x to -x'),
});

const opening = z.strictObject({ along: positiveLength(), deep: positiveLength() });

const insidePadSchema = z.strictObject({
  along: about(positiveLength(), 'the pad metal along the side'),
  deep: about(positiveLength(), 'the pad metal away from the die edge'),
  opening: about(opening, 'the opening in the passivation'),
});

const stripSchema = z.union([
  about(z.tuple([length(), length()]), 'from and to, from the outward edge'),
  z
    .strictObject({
      from: about(length(), 'distance from the outward edge'),
      to: about(length(), 'distance from the outward edge'),
      edges: about(
        z.enum(['both', 'start', 'end']).default('both'),
        'the edges it reaches; a corner cell starts at the side before it',
      ),
      carry: about(z.enum(['through', 'cut']).optional(), 'whether it goes on inside the cell'),
    })
    .refine(({ edges, carry }) => edges === 'both' || carry !== 'through', {
      path: ['carry'],
      message: 'cannot be `through` where the strip reaches only one edge',
    }),
]);
const stripsSchema = z.record(NAME, z.array(stripSchema).min(1));

const someStrips = z.union([
  NAME,
  z
    .strictObject({ lane: NAME.optional(), layer: NAME.optional() })
    .refine((one) => one.lane !== undefined || one.layer !== undefined, {
      message: 'must name a `lane`, a `layer` or both',
    }),
]);

const landingSchema = z.strictObject({
  name: about(NAME, "the landing's name; the cell's pin, where it has one"),
  at: about(length(), "its centre along the side, from the cell's start edge as it stands at the bottom"),
  feeds: about(z.array(NAME).default([]), 'the lanes that a bond pad here joins'),
  inside: about(
    insidePadSchema
      .partial()
      .extend({ t: about(positiveLength(), "the pad's centre from the outward edge") })
      .optional(),
    'the bond pad that the cell contains; sizes left out are those of `insidePad`',
  ),
});

const pairSchema = z.strictObject({ supply: NAME, ground: NAME });

const signalSchema = z.strictObject({
  name: NAME,
  direction: about(z.enum(['input', 'output', 'inout']), 'as the cell sees it'),
});

const strapSchema = z.strictObject({
  lane: NAME,
  layer: NAME,
  at: about(length(), "its centre along the side, from the cell's start edge"),
  width: positiveLength(),
  t: about(positiveLength(), 'how far from the outward edge its inner end lies'),
});

const oneWaySchema = z.strictObject({
  threshold: about(z.number().nonnegative().max(1000), 'the voltage below which it does not conduct'),
  resistance: about(z.number().nonnegative().max(1e6), 'ohm beyond that'),
});

const drivesSchema = z.strictObject({
  supply: about(NAME.optional(), "the supply lane; left out, the section's only pair says"),
  ground: about(NAME.optional(), "the ground lane; left out, the section's only pair says"),
  slope: about(positiveAmount().optional(), 'greatest change of the output current when it switches, mA/ns'),
});

export const cellSchema = z.strictObject({
  role: about(
    z.enum(ROLES).optional(),
    'what the cell is in the ring; LEF classes that leave no doubt suffice',
  ),
  width: about(positiveLength().optional(), 'of the drawing, unturned; only without LEF'),
  height: about(positiveLength().optional(), 'of the drawing, unturned; only without LEF'),
  outward: about(z.enum(SIDES).optional(), 'the edge of its drawing that faces the die edge'),
  follows: about(
    z.enum(SIDES).optional(),
    'a corner cell: the side it follows where its drawing stands unturned',
  ),
  setback: about(length().optional(), "its outward edge's distance inward from the row's"),
  landings: about(z.array(landingSchema).min(1).optional(), 'the places where a bond pad joins the cell'),
  padPin: about(NAME.optional(), 'the LEF pin that the bond pad joins'),
  lanes: about(
    z.record(NAME, stripsSchema).optional(),
    'its own strips of a lane: by layer, lists of from and to',
  ),
  lacks: about(z.array(NAME).min(1).optional(), 'lanes that have no strips in it; only without LEF'),
  cuts: about(
    z.array(someStrips).min(1).optional(),
    'strips that end inside it: lanes, or `lane` and `layer`',
  ),
  joins: about(z.array(someStrips).min(1).optional(), 'strips that go on inside it though not drawn so'),
  ties: about(z.array(z.array(NAME).min(2)).min(1).optional(), 'groups of lanes that it joins inside'),
  clamps: about(z.array(pairSchema).min(1).optional(), 'the lanes between which it holds a discharge clamp'),
  diodes: about(z.array(NAME).min(1).optional(), 'a break cell: lanes whose parted halves diodes join'),
  standsAlone: about(z.boolean().optional(), 'a filler: whether it may be the only one in a gap'),
  padOnTop: about(z.boolean().optional(), 'whether a bond pad may lie on it'),
  turns: about(turnsSchema.optional(), 'the turns that it allows'),
  onVertical: about(NAME.optional(), 'the cell that stands for it on the left and right sides'),
  perSection: about(
    z
      .strictObject({ least: z.int().min(0).default(0), most: z.int().min(0).optional() })
      .refine(({ least, most }) => most === undefined || least <= most, {
        path: ['most'],
        message: 'must be no less than its `least`',
        params: { code: 'out-of-range' },
      })
      .optional(),
    'how many of it each section must have',
  ),
  needs: about(z.array(NAME).min(1).optional(), 'cells of which its section must have at least one'),
  signals: about(
    z.array(signalSchema).min(1).optional(),
    'its signal pins toward the core; only without LEF',
  ),
  straps: about(z.array(strapSchema).min(1).optional(), 'where straps from the core land on it'),
  rating: about(positiveAmount().optional(), 'direct current from its bond pad, mA'),
  drives: about(drivesSchema.optional(), 'the lanes that its pad circuit works on, and how it switches'),
  clampDrop: about(oneWaySchema.optional(), 'what each of its clamps drops in a discharge'),
  padDiode: about(
    oneWaySchema.optional(),
    'what the diodes between its pad and its lanes drop in a discharge',
  ),
  breakDiode: about(oneWaySchema.optional(), 'a break cell: what its diodes drop in a discharge'),
});

const laneSchema = z.strictObject({
  pins: about(
    z.array(NAME).min(1).optional(),
    'the LEF pins that are this lane; left out, those of its name',
  ),
  strips: about(
    stripsSchema.optional(),
    'by layer, lists of from and to; in every cell that LEF does not draw',
  ),
});

const limitSchema = z.strictObject({
  celsius: about(z.number().min(-273).max(1000), 'temperature, degrees Celsius'),
  perMicrometre: about(positiveAmount(), 'greatest direct current, mA per micrometre of width'),
});

const layerSchema = z.strictObject({
  sheetResistance: about(positiveAmount().optional(), 'ohm a square'),
  currentLimits: about(z.array(limitSchema).min(1).optional(), 'by temperature'),
});

export const cellFileSchema = z
  .strictObject({
    name: about(NAME, "the library's name"),
    lef: about(z.array(z.string().min(1)).min(1).optional(), 'LEF files, relative to this one'),
    drawn: about(
      z
        .strictObject({
          outward: about(z.enum(SIDES).default('bottom'), 'the edge of the drawings that faces the die edge'),
          stubs: about(
            z.enum(['joined', 'cut']).optional(),
            'whether strips that LEF draws only at the edges go on inside the cell',
          ),
          turns: about(turnsSchema.optional(), 'the turns that cells allow where nothing else says'),
        })
        .prefault({}),
      'how the library draws its cells',
    ),
    lanes: about(
      z.record(NAME, laneSchema.nullable()).optional(),
      'the lanes; with LEF, left out means all power and ground pins',
    ),
    padPins: about(z.array(NAME).min(1).default(['pad', 'PAD']), 'LEF pins that bond pads join'),
    insidePad: about(insidePadSchema.optional(), 'the bond pads that the cells contain'),
    padOnTop: about(z.boolean().default(false), 'whether a bond pad may lie on the cells'),
    layers: about(z.record(NAME, layerSchema).optional(), 'the metal layers; goes before what LEF says'),
    drives: about(
      drivesSchema.omit({ slope: true }).optional(),
      'the lanes that pad circuits work on, of cells that do not say',
    ),
    clampDrop: about(oneWaySchema.optional(), 'what clamps drop in a discharge, of cells that do not say'),
    padDiode: about(oneWaySchema.optional(), "what pads' diodes drop, of cells that do not say"),
    breakDiode: about(oneWaySchema.optional(), "what break cells' diodes drop, of cells that do not say"),
    leaveOut: about(z.array(NAME).min(1).optional(), 'LEF cells that are none of the ring'),
    cells: about(z.record(NAME, cellSchema.nullable()).default({}), 'the cells'),
  })
  .describe('Ringwright cell file');

export type CellFile = z.output<typeof cellFileSchema>;
export type CellEntry = z.output<typeof cellSchema>;
export type StripEntry = z.output<typeof stripSchema>;
export type SomeStrips = z.output<typeof someStrips>;

/** The input side of the cell file as JSON Schema, for editors. */
export const cellFileJsonSchema = (): z.core.JSONSchema.JSONSchema =>
  z.toJSONSchema(cellFileSchema, { io: 'input', target: 'draft-2020-12' });
