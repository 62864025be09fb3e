/** The wires of a package: what they are, how high their loops rise, and what they keep. */
import { SIDES } from '../geometry/side.ts';
import { METRE, micrometres, units } from '../geometry/units.ts';
import type { Path } from '../source/source.ts';
import { exact } from './lengths.ts';
import type { Finger, Package } from './package.ts';
import { type PackageContext, useless } from './package-context.ts';
import { PACKAGE_DEFAULTS, type PackageText } from './package-schema.ts';

/** The wires and their limits, defaults filled in. */
export function wiresOf({ wires, limits }: PackageText): Pick<Package, 'wires' | 'limits'> {
  const foot = wires.foot ?? units(Math.round(wires.diameter * PACKAGE_DEFAULTS.footOverDiameter));
  const wireSpacing = limits?.wireSpacing ?? exact(PACKAGE_DEFAULTS.limits.wireSpacing);
  return {
    wires: {
      metal: wires.metal ?? PACKAGE_DEFAULTS.metal,
      diameter: wires.diameter,
      foot,
      pitch: wires.pitch ?? foot,
      loops: [
        ...(hasGeneralLoop(wires) ? [] : [{ row: null, tier: null, height: exact(PACKAGE_DEFAULTS.loop) }]),
        ...(wires.loops ?? []).map(({ row, tier, height }) => ({
          row: row ?? null,
          tier: tier ?? null,
          height,
        })),
      ],
      drops: wires.drops ?? [],
      lead: wires.lead ?? null,
      currents: new Map(Object.entries(wires.currents ?? {})),
    },
    limits: {
      span: { least: limits?.span?.least ?? null, most: limits?.span?.most ?? null },
      length: limits?.length ?? null,
      angle: limits?.angle ?? null,
      wireSpacing,
      padSpacing: limits?.padSpacing ?? exact(PACKAGE_DEFAULTS.limits.padSpacing),
      height: limits?.height ?? units(Math.min(wires.diameter + wireSpacing, METRE)),
    },
  };
}

/** Whether a loop height is given for every row and tier, in place of the default. */
const hasGeneralLoop = ({ loops = [] }: PackageText['wires']): boolean =>
  loops.some(({ row, tier }) => row === undefined && tier === undefined);

/** Loop heights and drops of rows and tiers that there are. */
export function checkLoops(context: PackageContext, text: PackageText, fingers: readonly Finger[]): void {
  if (fingers.length === 0) return;
  const tiers = fingers.reduce((most, finger) => Math.max(most, finger.tier), 1);
  const used = SIDES.filter((side) =>
    context.entries[side].some((entry) => entry.footprint.landings.length > 0),
  );
  const two = used.some(context.twoRows);
  const single = used.some((side) => !context.twoRows(side));
  text.wires.loops?.forEach(({ row, tier }, i) => {
    const path: Path = ['package', 'wires', 'loops', i];
    if (row === 'single' ? !single : row !== undefined && !two)
      useless(
        context,
        [...path, 'row'],
        row === 'single' ? 'every side has two rows' : 'no side has two rows',
      );
    if (tier === 0 ? text.paddle === undefined : tier !== undefined && tier > tiers)
      useless(context, [...path, 'tier'], tier === 0 ? 'there is no paddle' : 'no finger is of that tier');
  });
  if ((text.wires.drops?.length ?? 0) > tiers)
    useless(context, ['package', 'wires', 'drops', tiers], 'no finger is of that tier');
}

export function checkLimits({ report, source }: PackageContext, { limits, wires }: PackageText): void {
  const { least, most } = limits?.span ?? {};
  if (least !== undefined && most !== undefined && least > most)
    report.error(
      source.placeOf(['package', 'limits', 'span', 'least']),
      'out-of-range',
      `the least span of ${micrometres(least)} is above the largest of ${micrometres(most)}`,
      'exchange the two',
    );
  if (wires.foot !== undefined && wires.foot < wires.diameter)
    report.error(
      source.placeOf(['package', 'wires', 'foot']),
      'out-of-range',
      `a foot of ${micrometres(wires.foot)} is narrower than its wire of ${micrometres(wires.diameter)}`,
      'give the width that the wire is pressed to',
    );
  if (limits?.height !== undefined && limits.height < wires.diameter)
    report.error(
      source.placeOf(['package', 'limits', 'height']),
      'out-of-range',
      `wires whose loops differ by ${micrometres(limits.height)} are to pass above each other, and are ${micrometres(wires.diameter)} thick`,
      'give a wire and its clearance at least, or leave it out',
    );
  const thick = `its wire of ${micrometres(wires.diameter)} is thick`;
  if (!hasGeneralLoop(wires) && exact(PACKAGE_DEFAULTS.loop) < wires.diameter)
    report.error(
      source.placeOf(['package', 'wires', 'diameter']),
      'out-of-range',
      `a loop of ${PACKAGE_DEFAULTS.loop}, taken where no other is given, is lower than ${thick}`,
      'correct the diameter, or give the height of all loops under `loops`; lengths are in micrometres',
    );
  wires.loops?.forEach(({ height }, i) => {
    if (height < wires.diameter)
      report.error(
        source.placeOf(['package', 'wires', 'loops', i, 'height']),
        'out-of-range',
        `a loop of ${micrometres(height)} is lower than ${thick}`,
        'give how high the wire rises above its bond pad, in micrometres',
      );
  });
}
