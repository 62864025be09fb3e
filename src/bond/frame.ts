/** From the die, as drawn, to the package: scaled to silicon, turned and moved. Lengths are micrometres. */
import type { PlacedPackage, Placement } from '../format/placement.ts';
import type { Side } from '../geometry/side.ts';

export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** A spot as a side of the die sees it, on silicon: s from the side's middle, t inward from the die edge. */
export interface SideSpot {
  readonly s: number;
  readonly t: number;
}

export interface Frames {
  /** From the die's axes, drawn, to the package's. */
  readonly toPackage: (x: number, y: number) => Spot;
  /** From the package's axes to those of the unturned die about its centre, on silicon. */
  readonly toSilicon: (x: number, y: number) => Spot;
  /** From the package's axes to the die's, drawn. */
  readonly toDie: (x: number, y: number) => Spot;
  /** From the unturned die on silicon to a side's frame. */
  readonly toSide: (side: Side, x: number, y: number) => SideSpot;
  /** The die's extents on silicon. */
  readonly die: { readonly width: number; readonly height: number };
}

/** The cosine and sine of a turn in degrees, exact for quarter turns. */
export function turnOf(degrees: number): readonly [cosine: number, sine: number] {
  const quarters = (((degrees / 90) % 4) + 4) % 4;
  if (quarters === 0) return [1, 0];
  if (quarters === 1) return [0, 1];
  if (quarters === 2) return [-1, 0];
  if (quarters === 3) return [0, -1];
  const angle = (degrees * Math.PI) / 180;
  return [Math.cos(angle), Math.sin(angle)];
}

/** To whole picometres, where the exact predicates start from. */
export const toPicometre = (length: number): number => Math.round(length * 1e6) / 1e6;

export function framesOf(placement: Placement, bonded: PlacedPackage): Frames {
  const { shrink } = placement.rules;
  const [width, height] = [placement.die.width * shrink, placement.die.height * shrink];
  const [cosine, sine] = turnOf(bonded.die.rotation);
  const toSilicon = (x: number, y: number): Spot => {
    const [dx, dy] = [x - bonded.die.x, y - bonded.die.y];
    return { x: cosine * dx + sine * dy, y: cosine * dy - sine * dx };
  };
  return {
    toSilicon,
    toPackage: (x, y) => {
      const [dx, dy] = [x * shrink - width / 2, y * shrink - height / 2];
      return {
        x: toPicometre(bonded.die.x + cosine * dx - sine * dy),
        y: toPicometre(bonded.die.y + cosine * dy + sine * dx),
      };
    },
    toDie: (x, y) => {
      const spot = toSilicon(x, y);
      return { x: (spot.x + width / 2) / shrink, y: (spot.y + height / 2) / shrink };
    },
    toSide: (side, x, y) => {
      switch (side) {
        case 'bottom':
          return { s: x, t: y + height / 2 };
        case 'right':
          return { s: y, t: width / 2 - x };
        case 'top':
          return { s: -x, t: height / 2 - y };
        case 'left':
          return { s: -y, t: x + width / 2 };
      }
    },
    die: { width, height },
  };
}
