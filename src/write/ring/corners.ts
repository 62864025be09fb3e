/**
 * Whether the outermost labels of two neighbouring sides keep off each other. Seen from the die's corner: u
 * leads outward beside the die, v outward above it, so that all four corners are one.
 */

/** Where a label's pad and its text stand beyond the corner along its side; before it is negative. */
interface Outermost {
  readonly pad: number;
  readonly label: number;
}

export interface Corner {
  readonly beside: Outermost | undefined;
  readonly above: Outermost | undefined;
}

type Dot = readonly [u: number, v: number];
interface Block {
  readonly u0: number;
  readonly u1: number;
  readonly v0: number;
  readonly v1: number;
}

const CLEARANCE = 0.7;

export function apart(
  { beside, above }: Corner,
  fan: { readonly beside: number; readonly above: number },
  text: { readonly room: number; readonly beside: number; readonly above: number },
  end: number,
): boolean {
  if (beside === undefined || above === undefined) return true;
  const half = text.room / 2;
  const lineA: readonly Dot[] = [
    [0, beside.pad],
    [end, beside.pad],
    [fan.beside - end, beside.label],
    [fan.beside, beside.label],
  ];
  const lineB: readonly Dot[] = [
    [above.pad, 0],
    [above.pad, end],
    [above.label, fan.above - end],
    [above.label, fan.above],
  ];
  const blockA = grown({
    u0: fan.beside,
    u1: fan.beside + text.beside,
    v0: beside.label - half,
    v1: beside.label + half,
  });
  const blockB = grown({
    u0: above.label - half,
    u1: above.label + half,
    v0: fan.above,
    v1: fan.above + text.above,
  });
  return (
    !(blockA.u0 < blockB.u1 && blockB.u0 < blockA.u1 && blockA.v0 < blockB.v1 && blockB.v0 < blockA.v1) &&
    !crosses(lineA, lineB) &&
    !crosses(lineA, outline(blockB)) &&
    !crosses(lineB, outline(blockA)) &&
    beside.label <= fan.above + text.above &&
    above.label <= fan.beside + text.beside
  );
}

const grown = (b: Block): Block => ({
  u0: b.u0 - CLEARANCE,
  u1: b.u1 + CLEARANCE,
  v0: b.v0 - CLEARANCE,
  v1: b.v1 + CLEARANCE,
});

const outline = ({ u0, u1, v0, v1 }: Block): readonly Dot[] => [
  [u0, v0],
  [u1, v0],
  [u1, v1],
  [u0, v1],
  [u0, v0],
];

/** Which side of a line through two dots a third lies on. */
const turn = (a: Dot, b: Dot, c: Dot): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

function crosses(one: readonly Dot[], other: readonly Dot[]): boolean {
  for (let i = 1; i < one.length; i++) {
    for (let j = 1; j < other.length; j++) {
      const [a, b, c, d] = [one[i - 1], one[i], other[j - 1], other[j]];
      if (a && b && c && d && turn(a, b, c) * turn(a, b, d) <= 0 && turn(c, d, a) * turn(c, d, b) <= 0)
        return true;
    }
  }
  return false;
}
