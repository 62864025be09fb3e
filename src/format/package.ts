/**
 * The part of the placement file that says what the die is bonded into. Its frame has the cavity's centre as
 * origin, x to the right and y up; its lengths are micrometres of the finished parts, on silicon where the die is
 * meant.
 */
import { z } from 'zod';

const text = z.string().min(1).max(200);
const number = z.number();
const length = z.number().nonnegative();
/** A picometre is the least length there is; figures worked out from a lesser one would not be finite. */
const extent = z.number().min(1e-6);
const side = z.enum(['left', 'bottom', 'right', 'top']);

export const packageSchema = z
  .object({
    name: text,
    cavity: z.object({ width: extent, height: extent }).nullable(),
    paddle: z
      .object({
        width: extent,
        height: extent,
        reach: extent.describe('how far outside the die edge a down-bond ends'),
        drop: number.describe('how far it lies below the bond pads'),
      })
      .nullable(),
    die: z.object({
      x: number.describe("the die's centre"),
      y: number,
      rotation: number.describe('degrees, counter-clockwise'),
    }),
    fingers: z
      .array(
        z.object({
          name: text,
          x: number.describe('where wires end on it'),
          y: number,
          width: extent,
          angle: number.describe('where it leads to, away from the die: degrees from the x axis'),
          tier: z.int().positive(),
          side: side.describe("the package's side"),
        }),
      )
      .describe('in order from pin 1'),
    bonds: z
      .array(z.object({ bondPad: z.int().positive(), finger: text.nullable() }))
      .describe('a wire each; finger null: down to the paddle'),
    unbonded: z.array(text).describe('pins that are to have no wire'),
    exchange: z.array(z.array(text)).describe("groups of pins that may take each other's places"),
    wires: z.object({
      metal: z.enum(['gold', 'copper', 'aluminium', 'silver', 'other']),
      diameter: extent,
      foot: extent.describe("width of a wire's foot"),
      pitch: extent.describe('least distance of two feet on one pad or finger'),
      loops: z
        .array(
          z.object({
            row: z.enum(['single', 'outer', 'inner']).nullable(),
            tier: z.int().nonnegative().nullable().describe('0 for down-bonds'),
            height: extent,
          }),
        )
        .describe('height above the pad; the last that fits a wire holds; null fits all'),
      drops: z
        .array(number)
        .describe('how far the fingers of each tier lie below the bond pads, from tier 1 on'),
      lead: length.nullable().describe('inductance beyond the finger, nanohenry'),
      currents: z.record(text, length).describe('root-mean-square current by pin, ampere'),
    }),
    limits: z.object({
      span: z.object({ least: length.nullable(), most: length.nullable() }).describe('length in plan'),
      length: length.nullable().describe('with the loop'),
      angle: number.nullable().describe("to the normal of the die's side, degrees"),
      wireSpacing: length.describe('metal to metal in plan, where heights are alike'),
      padSpacing: length.describe('to the metal of a pad not its own, in plan, where heights are alike'),
      height: length.describe('heights that differ by this are not alike'),
    }),
  })
  .describe('the package: lengths on silicon, from the centre of the cavity');

/** For the summary: the wires as a whole. */
export const wireSummarySchema = z.object({
  count: z.int().nonnegative(),
  span: number.nullable().describe('the longest in plan'),
  length: number.nullable().describe('the longest with its loop'),
  angle: number.nullable().describe('the largest, degrees'),
  crossings: z.int().nonnegative(),
  towardFingers: z
    .array(
      z.object({
        side,
        shared: number.describe('with the slack shared: root mean square of the distances to straight wires'),
        placed: number.describe('as placed'),
        proven: z.boolean().describe('whether no legal placing is nearer'),
      }),
    )
    .describe('the sides whose slack goes toward the fingers'),
});
