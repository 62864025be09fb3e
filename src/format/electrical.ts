/**
 * The electrical part of the placement file: what the ring has to carry (`rules.electrical`), what was found
 * (`summary.electrical`), and the strips between ring and core (`coreStrips`). Currents are mA, voltages V, loads
 * pF, times ns, slopes mA/ns, inductances nH, resistances ohm, temperatures degrees Celsius.
 */
import { z } from 'zod';

const text = z.string().min(1).max(200);
/** Nothing of a chip lies beyond these bounds in any unit; figures worked out from such numbers stay finite. */
const [LEAST, MOST] = [1e-12, 1e12];
const extent = z.number().min(LEAST).max(MOST);
const amount = z.number().nonnegative().max(MOST);
const count = z.int().nonnegative();

/** A figure with its working, or what is missing. */
const figureSchema = z.union([
  z.object({
    value: z.number(),
    unit: z.string(),
    formula: z.string(),
    inputs: z.array(z.object({ name: z.string(), value: z.number(), unit: z.string() })),
    source: z.string(),
  }),
  z.object({ notAssessed: z.string().describe('what is missing') }),
]);

/** A one-way element of a discharge path. */
const dropSchema = z.object({
  threshold: amount.describe('V below which it does not conduct'),
  resistance: amount,
});

/** What a footprint says of itself electrically; the library's own cell file is the source. */
export const footprintElectricalSchema = z.object({
  drives: z
    .object({
      supply: text.nullable(),
      ground: text.nullable(),
      slope: extent.nullable().describe('of a switching output'),
    })
    .nullable()
    .describe('the lanes that the pad circuit works on; a lane that is null is left to the section'),
  clamp: dropSchema.nullable().describe('each of its clamps'),
  padDiode: dropSchema.nullable().describe('from its pad to the supply lane, and from the ground lane to it'),
  breakDiode: dropSchema.nullable().describe('across a break, either way'),
});

export const electricalRulesSchema = z
  .object({
    celsius: z.number().nullable().describe('the hottest that the ring gets'),
    layers: z.array(
      z.object({
        name: text,
        sheetResistance: extent.nullable().describe('ohm a square'),
        limits: z
          .array(z.object({ celsius: z.number().nullable(), perMicrometre: extent }))
          .describe('greatest direct current in mA per micrometre of width, the coolest first'),
      }),
    ),
    wires: z
      .object({
        metal: z.enum(['gold', 'copper', 'aluminium', 'silver', 'other']),
        diameter: extent,
        length: extent.describe('from pad to finger, loop and all'),
        lead: amount.nullable(),
      })
      .nullable()
      .describe('nominal wires, where no package says better'),
    core: z.record(text, extent).describe("the core's current by supply net"),
    outputs: z.array(
      z.object({
        name: text,
        pins: z.array(text),
        current: amount.nullable().describe('direct current of each pin'),
        slope: extent.nullable().describe('greatest change of its current, where the library says'),
        edge: z
          .object({
            time: extent.describe('10 to 90 %'),
            shape: z.enum(['handbook', 'gaussian', 'raised-cosine']),
          })
          .nullable(),
        load: extent.nullable(),
        swing: extent.nullable(),
      }),
    ),
    together: z.array(z.array(text)).describe('outputs that switch at one time; every one does by itself'),
    noise: z.record(text, extent).describe('budget by section'),
    drop: z.record(text, extent).describe('budget by net'),
    discharge: z
      .object({
        level: extent,
        rail: extent.nullable().describe('budget for the drop along rails'),
        path: extent.nullable().describe('budget for the whole path'),
      })
      .nullable(),
    decoupling: z.object({ chip: extent.nullable(), package: extent.nullable() }).nullable(),
    supplies: z.enum(['given', 'auto']),
    coreStrips: z
      .object({
        nets: z.array(text).describe('from the ring inward'),
        layer: text,
        width: extent.nullable().describe('null: from the current limit'),
        spacing: extent,
        clearance: amount.describe('from the ring to the first strip'),
      })
      .nullable(),
  })
  .describe('what the ring has to carry, and the budgets that it is held to');

export const coreStripsSchema = z
  .array(
    z.object({
      net: text,
      layer: text,
      width: extent,
      rectangles: z.array(
        z.object({ layer: text, x: z.number(), y: z.number(), width: extent, height: extent }),
      ),
      straps: z.array(
        z.object({
          cell: text,
          layer: text,
          x: z.number(),
          y: z.number(),
          width: extent,
          height: extent,
        }),
      ),
    }),
  )
  .describe('a closed strip a core net, from the ring inward, and the straps that join it to supply cells');

export const DEMANDS = ['current', 'wire', 'noise', 'discharge'] as const;

const supplyCountSchema = z.object({
  net: text,
  kind: z.enum(['supply', 'ground']),
  lane: text,
  sections: z.array(text),
  have: count.describe('supply cells that feed the arc'),
  needed: figureSchema,
  decides: z.enum(DEMANDS).nullable(),
  demands: z.object({
    current: figureSchema,
    wire: figureSchema,
    noiseApart: figureSchema.describe('by L/N: optimistic, never decides'),
    noise: figureSchema.describe('by coupled wires'),
    discharge: figureSchema,
  }),
});

export const electricalSummarySchema = z.union([
  z.object({ notAssessed: z.string() }),
  z.object({
    supplies: z.array(supplyCountSchema),
    figures: z
      .array(z.object({ what: text, of: text, figure: figureSchema, limit: figureSchema.nullable() }))
      .describe('each with what it is of and the limit that it is held to'),
  }),
]);
