/** The human-body model of electrostatic discharge. */

/** The model's series resistance in ohm (ANSI/ESDA/JEDEC JS-001). */
export const BODY_RESISTANCE = 1500;

/** The peak current in ampere of a discharge at a level in volt: V / 1500 ohm (ANSI/ESDA/JEDEC JS-001). */
export const dischargePeak = (level: number): number => level / BODY_RESISTANCE;
