/**
 * The keys of the description's `electrical`: what the ring has to carry and the budgets that it is held to. Currents are
 * mA, voltages V, loads pF, times ns, slopes mA/ns, inductances nH, temperatures degrees Celsius.
 */
import { z } from 'zod';
import { length, positiveAmount, positiveLength } from '../source/length.ts';
import { WIRE_METALS } from './package.ts';
import { about, name, names } from './words.ts';

/** What a key of `electrical` means that is left out. */
export const ELECTRICAL_DEFAULTS = {
  metal: 'gold',
  shape: 'handbook',
  supplies: 'given',
  spare: 0,
  clearance: 0,
} as const;

export const EDGE_SHAPES = ['handbook', 'gaussian', 'raised-cosine'] as const;

const most = positiveAmount;
const milliamperes = () => most(1e6);
const volts = () => most(1e5);

const wiresSchema = z.strictObject({
  metal: z.enum(WIRE_METALS).optional().meta(about('what the wires are of', ELECTRICAL_DEFAULTS.metal)),
  diameter: positiveLength().meta(about("the wires' diameter")),
  length: positiveLength().meta(about('their length from pad to finger, loop and all')),
  lead: z
    .number()
    .nonnegative()
    .max(1000)
    .optional()
    .meta(about('the inductance of a package lead beyond its finger, nH')),
});

const outputSchema = z.strictObject({
  pins: names().meta(about('the pins of this kind; those that switch do so at one time')),
  current: milliamperes().optional().meta(about('the direct current of each pin, mA')),
  slope: most(1e6)
    .optional()
    .meta(
      about(
        "the greatest change of each pin's current, mA/ns; left out: from load and edge, or the library's",
      ),
    ),
  load: most(1e6).optional().meta(about('the load of each pin, pF')),
  swing: volts().optional().meta(about('its swing, V')),
  edge: most(1e6).optional().meta(about("its edge's time from 10 to 90 %, ns")),
  shape: z
    .enum(EDGE_SHAPES)
    .optional()
    .meta(about("its edge's shape: k of 1.52, which is no bound, 1.59 or 1.72", ELECTRICAL_DEFAULTS.shape)),
});

const budgets = (of: string, what: string) =>
  z
    .union([
      volts(),
      z.record(name(), volts()).refine((record) => Object.keys(record).length > 0, 'must name one at least'),
    ])
    .optional()
    .meta(about(`${what}, V: for all, or by ${of}`));

const suppliesSchema = z.union([
  z.enum(['given', 'auto']),
  z.strictObject({
    cells: z
      .record(name(), name())
      .optional()
      .meta(about("the supply cell to set for a lane; left out: the library's that feeds the fewest lanes")),
    spare: z
      .int()
      .positive()
      .max(1000)
      .optional()
      .meta(about('how many more pairs may go where sides have room to spare', ELECTRICAL_DEFAULTS.spare)),
  }),
]);

const stripsSchema = z.strictObject({
  nets: names().meta(about('the core nets that get a closed strip, from the ring inward')),
  layer: name().meta(about('the layer of the strips')),
  width: positiveLength().optional().meta(about('their width; left out: from the current limit')),
  spacing: positiveLength().meta(about('from strip to strip')),
  clearance: length()
    .optional()
    .meta(about('from the ring to the first strip', ELECTRICAL_DEFAULTS.clearance)),
});

export const electricalSchema = z.strictObject({
  celsius: z
    .number()
    .min(-273)
    .max(1000)
    .optional()
    .meta(about('the hottest that the ring gets: current limits hold at the next hotter temperature given')),
  wires: wiresSchema.optional().meta(about('nominal bond wires, where no `package` says better')),
  core: z
    .record(name(), milliamperes())
    .refine((record) => Object.keys(record).length > 0, 'must name one net at least')
    .optional()
    .meta(about("the core's current by supply net, mA")),
  outputs: z
    .record(name(), outputSchema)
    .refine((record) => Object.keys(record).length > 0, 'must name one at least')
    .optional()
    .meta(about('groups of pins by name: what they draw and how they switch')),
  together: z
    .array(z.array(name()).min(2))
    .min(1)
    .optional()
    .meta(about('groups of outputs that switch at one time')),
  noise: budgets('section', 'the budget for switching noise'),
  drop: budgets('net', 'the budget for the drop along rails'),
  discharge: z
    .strictObject({
      level: volts().meta(about('the level of the human-body model, V')),
      rail: volts().optional().meta(about('the budget for the drop along rails and stems, V')),
      path: volts().optional().meta(about('the budget for the whole path, V')),
    })
    .optional()
    .meta(about('discharge from each pad to each other')),
  decoupling: z
    .strictObject({
      chip: volts().optional().meta(about('how far the supply may fall on chip in one edge, V')),
      package: volts().optional().meta(about('the same in the package, V')),
    })
    .optional()
    .meta(about('budgets for decoupling')),
  supplies: suppliesSchema
    .optional()
    .meta(
      about(
        '`given`: supply cells are checked; `auto`, or how: missing ones are set as well',
        ELECTRICAL_DEFAULTS.supplies,
      ),
    ),
  coreStrips: stripsSchema.optional().meta(about('strips between ring and core that feed the core')),
});

export type ElectricalText = z.output<typeof electricalSchema>;
