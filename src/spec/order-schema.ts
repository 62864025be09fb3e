/** The keys of an order that is cut into sides, and of a die that is not given in full. */
import { z } from 'zod';
import { SIDES } from '../geometry/side.ts';
import { positiveLength } from '../source/length.ts';
import { about, names } from './words.ts';

export const dieSchema = z.union([
  z.literal('fit'),
  z.strictObject({
    width: positiveLength()
      .optional()
      .meta(about("the die's width, drawn, from one sawn edge to the other; left out: the least")),
    height: positiveLength().optional().meta(about("the die's height, drawn; left out: the least")),
    aspect: z
      .number()
      .min(1)
      .max(100)
      .optional()
      .meta(about('how many times the smaller side the larger one may be at the most')),
    least: z
      .enum(['side', 'area'])
      .optional()
      .meta(
        about(
          'what an order is cut for: the least larger side, then the least area; or the least area',
          'side',
        ),
      ),
  }),
]);

const groupSchema = z.strictObject({
  pins: names().meta(about('the pins of the group')),
  sides: z
    .array(z.enum(SIDES))
    .min(1)
    .optional()
    .meta(about('the sides that they may lie on; left out: all')),
  whole: z
    .boolean()
    .optional()
    .meta(about('whether they stay together on one side, no corner between them', false)),
});

/** The order's schema, given that of a cell as a side lists it. */
export const orderSchema = <T extends z.ZodRawShape>(cell: z.ZodObject<T>) =>
  z
    .strictObject({
      cells: z
        .array(
          z.strictObject({
            ...cell.shape,
            side: z
              .enum(SIDES)
              .optional()
              .meta(about('the side that the cell has to stand on; left out: any')),
          }),
        )
        .min(1)
        .optional()
        .meta(about('the cells of the whole ring, counter-clockwise')),
      pins: z
        .string()
        .min(1)
        .max(1000)
        .optional()
        .meta(
          about(
            'instead of `cells`: a CSV file with a row a cell, relative to this file; `side` may be left out',
          ),
        ),
      groups: z
        .array(groupSchema)
        .optional()
        .meta(about('pins that stay together, or may lie on some sides only')),
    })
    .meta({ oneOf: [{ required: ['cells'] }, { required: ['pins'] }] });
