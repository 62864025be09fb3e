/** The keys of the description's `package`: fingers, bonds, wires and the assembly house's limits. */
import { z } from 'zod';
import { SIDES } from '../geometry/side.ts';
import { length, positiveLength, signedLength } from '../source/length.ts';
import { BOND_ORDERS, WIRE_METALS } from './package.ts';
import { about, name, names } from './words.ts';

/** What a key of `package` means that is left out; lengths in micrometres. */
export const PACKAGE_DEFAULTS = {
  die: { x: 0, y: 0, rotation: 0 },
  fingers: { sides: SIDES, tiers: 1, tier: 1 },
  bonds: { by: 'sides' },
  metal: 'gold',
  /** The foot's width over the wire's diameter (common practice, no source). */
  footOverDiameter: 2.5,
  /** A loop of gold wire (common practice, no source). */
  loop: 150,
  paddle: { drop: 0 },
  limits: { wireSpacing: 0, padSpacing: 0 },
} as const;

const angle = () => z.number().min(-360).max(360);
const tier = () => z.literal([1, 2]);

/** A finger's name; a plain number may be written without quotes. */
const fingerName = () => z.union([name(), z.int().nonnegative()]).transform(String);

export const fingerSchema = z.strictObject({
  name: fingerName().meta(about('its name, or its number')),
  x: signedLength().meta(about("where wires end on it, from the cavity's centre")),
  y: signedLength().meta(about('the same, upward')),
  width: positiveLength().meta(about('its width across its own direction')),
  angle: angle().meta(
    about('the direction in which it leads away from the die, in degrees counter-clockwise from the x axis'),
  ),
  tier: tier().optional().meta(about('its shelf, 1 the nearest to the die', PACKAGE_DEFAULTS.fingers.tier)),
});

const generatedSchema = z.strictObject({
  sides: z
    .array(z.enum(SIDES))
    .min(1)
    .max(4)
    .optional()
    .meta(
      about(
        'the sides with fingers, counter-clockwise, that of finger 1 first',
        PACKAGE_DEFAULTS.fingers.sides,
      ),
    ),
  count: z.int().min(1).max(40_000).meta(about('how many fingers there are, as many on each side')),
  pitch: positiveLength().meta(about('from finger to finger of one tier, at the tips')),
  distance: positiveLength().meta(about("from the cavity's centre to the row of the tips")),
  width: positiveLength().meta(about('the width of a finger at its tip')),
  tiers: tier()
    .optional()
    .meta(
      about(
        'with 2, the fingers take turns between two tiers, half a pitch apart',
        PACKAGE_DEFAULTS.fingers.tiers,
      ),
    ),
  tierDistance: positiveLength().optional().meta(about('with two tiers: from the first tips to the second')),
});

const toFinger = z.union([fingerName(), z.array(fingerName()).min(1).max(100)]);

const bondsSchema = z.strictObject({
  by: z
    .enum(BOND_ORDERS)
    .optional()
    .meta(
      about(
        'how pins find fingers: the pads of a side to the fingers facing it, pad 1 to the first finger and on around, or by equal names',
        PACKAGE_DEFAULTS.bonds.by,
      ),
    ),
  first: fingerName().optional().meta(about('with `by: order`: the finger of pad 1')),
  free: z.array(fingerName()).min(1).optional().meta(about('fingers that get no wire by sides or order')),
  to: z
    .record(name(), toFinger)
    .optional()
    .meta(about('pins with a finger of their own, or several, or `paddle`: a wire to each')),
  unbonded: names().optional().meta(about('pins that are to have no wire')),
  exchange: z
    .array(z.array(name()).min(2))
    .min(1)
    .optional()
    .meta(about("groups of pins that may take each other's places, should that part crossing wires")),
});

const loopSchema = z.strictObject({
  row: z.enum(['single', 'outer', 'inner']).optional().meta(about("the bond pad's row; left out: all")),
  tier: z.literal([0, 1, 2]).optional().meta(about("the finger's tier, 0 for the paddle; left out: all")),
  height: positiveLength().meta(about('how high the wire rises above the bond pad')),
});

const wiresSchema = z.strictObject({
  metal: z.enum(WIRE_METALS).optional().meta(about('what the wires are of', PACKAGE_DEFAULTS.metal)),
  diameter: positiveLength().meta(about("the wires' diameter")),
  foot: positiveLength()
    .optional()
    .meta(about("the width of a wire's foot on pad and finger; left out: two and a half diameters")),
  pitch: positiveLength()
    .optional()
    .meta(about('the least distance of two feet on one pad or finger, centre to centre; left out: a foot')),
  loops: z
    .array(loopSchema)
    .min(1)
    .optional()
    .meta(about('loop heights; the last one that fits a wire holds, and 150 where none does')),
  drops: z
    .array(signedLength())
    .min(1)
    .max(2)
    .optional()
    .meta(about('how far the fingers of each tier lie below the bond pads, from tier 1 on; left out: 0')),
  lead: z
    .number()
    .nonnegative()
    .max(1000)
    .optional()
    .meta(about('the inductance of a package lead beyond its finger, in nanohenry')),
  currents: z
    .record(name(), z.number().nonnegative().max(1000))
    .optional()
    .meta(about('root-mean-square current by pin, in ampere, shared by all its wires')),
});

const limitsSchema = z.strictObject({
  span: z
    .strictObject({
      least: length().optional().meta(about('the least')),
      most: positiveLength().optional().meta(about('the largest')),
    })
    .optional()
    .meta(about("a wire's length in plan")),
  length: positiveLength().optional().meta(about("a wire's largest length with its loop")),
  angle: z
    .number()
    .positive()
    .max(180)
    .optional()
    .meta(about("a wire's largest angle to the normal of the die's side, in degrees")),
  wireSpacing: length()
    .optional()
    .meta(
      about(
        'the least distance of two wires of like heights, metal to metal in plan',
        PACKAGE_DEFAULTS.limits.wireSpacing,
      ),
    ),
  padSpacing: length()
    .optional()
    .meta(
      about(
        'the least distance of a wire to the metal of a bond pad not its own, in plan, unless it passes above',
        PACKAGE_DEFAULTS.limits.padSpacing,
      ),
    ),
  height: positiveLength()
    .optional()
    .meta(
      about(
        'wires whose loop heights differ by this pass above each other; left out: a diameter and `wireSpacing`',
      ),
    ),
});

export const packageSchema = z.strictObject({
  name: name().meta(about("the package's name")),
  cavity: z
    .strictObject({
      width: positiveLength().meta(about('its width')),
      height: positiveLength().meta(about('its height')),
    })
    .optional()
    .meta(about('the room for the die')),
  paddle: z
    .strictObject({
      width: positiveLength().meta(about('its width')),
      height: positiveLength().meta(about('its height')),
      reach: positiveLength().meta(about('how far outside the die edge a down-bond ends')),
      drop: signedLength()
        .optional()
        .meta(about('how far it lies below the bond pads', PACKAGE_DEFAULTS.paddle.drop)),
    })
    .optional()
    .meta(about('the ground paddle under the die, for down-bonds')),
  die: z
    .strictObject({
      x: signedLength().optional().meta(about("the die's centre from the cavity's", PACKAGE_DEFAULTS.die.x)),
      y: signedLength().optional().meta(about('the same, upward', PACKAGE_DEFAULTS.die.y)),
      rotation: angle()
        .optional()
        .meta(about("the die's rotation in degrees, counter-clockwise", PACKAGE_DEFAULTS.die.rotation)),
    })
    .optional()
    .meta(about('how the die lies in the cavity')),
  fingers: z
    .union([z.array(fingerSchema).min(1).max(40_000), z.string().min(1).max(1000), generatedSchema])
    .meta(
      about(
        'the bond fingers in order from pin 1: a list, a CSV file relative to this file, or how to generate them',
      ),
    ),
  bonds: bondsSchema.optional().meta(about('which pin goes to which finger')),
  wires: wiresSchema.meta(about('what the wires are')),
  limits: limitsSchema.optional().meta(about("the assembly house's limits for wires, on silicon")),
});

export type PackageText = z.output<typeof packageSchema>;
export type FingerText = z.output<typeof fingerSchema>;
export type GeneratedText = z.output<typeof generatedSchema>;
