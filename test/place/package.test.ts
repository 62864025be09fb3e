/**
 * Shows which bond pad goes to which finger: by sides with the free fingers shared between both ends, by order from pin
 * 1, by names, and by choice. No source: these are the meanings of the description's words.
 */
import { describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { bondedRing, each, laid, lead, packageOf, pins } from '../bond/sample.ts';
import { um } from '../helpers/ring.ts';

const BONDS = packageOf([]).bonds;

/** What goes where: `P1 3`, in the order of the pads. */
const told = (placement: Placement): readonly string[] =>
  (placement.package?.bonds ?? []).map(({ bondPad, finger }) => {
    const pad = placement.bondPads.find(({ number }) => number === bondPad);
    return `${pad?.pin} ${finger ?? 'paddle'}`;
  });

const bonded = (
  bonds: Partial<typeof BONDS>,
  fingers = lead(6, 200, 2600),
  rotation = 0,
): readonly string[] =>
  told(
    laid(
      bondedRing(
        packageOf(fingers, {
          bonds: { ...BONDS, ...bonds },
          die: { x: um(0), y: um(0), rotation },
          paddle: { width: um(3000), height: um(3000), reach: um(200), drop: um(0) },
        }),
        pins(each(3)),
      ),
    ),
  );

describe('by sides', () => {
  it('leaves the free fingers at both ends, the odd one at the last', () => {
    expect(bonded({})).toEqual([
      ...['P1 2', 'P2 3', 'P3 4', 'P4 8', 'P5 9', 'P6 10'],
      ...['P7 14', 'P8 15', 'P9 16', 'P10 20', 'P11 21', 'P12 22'],
    ]);
  });

  it('of the fingers that face them: a turned die looks to other ones', () => {
    // Turned counter-clockwise by 90 degrees, the left side looks down.
    expect(bonded({}, lead(6, 200, 2600), 90).slice(0, 4)).toEqual(['P1 8', 'P2 9', 'P3 10', 'P4 14']);
    expect(bonded({}, lead(6, 200, 2600), -90).slice(0, 3)).toEqual(['P1 20', 'P2 21', 'P3 22']);
  });

  it('fingers kept free or named for a pin are passed over', () => {
    const free = { free: ['2', '3'], to: new Map([['P1', ['6', 'paddle']]]) };
    expect(bonded(free).slice(0, 4)).toEqual(['P1 6', 'P1 paddle', 'P2 1', 'P3 4']);
  });

  it('pins said to be unbonded get none', () => {
    expect(bonded({ unbonded: ['P2'] }).slice(0, 3)).toEqual(['P1 3', 'P3 4', 'P4 8']);
  });
});

describe('by order', () => {
  it('pad 1 to the first finger, and on around', () => {
    expect(bonded({ by: 'order' }).slice(0, 4)).toEqual(['P1 1', 'P2 2', 'P3 3', 'P4 4']);
    const late = bonded({ by: 'order', first: 22, free: ['24', '1'] });
    expect(late.slice(0, 3)).toEqual(['P1 23', 'P2 2', 'P3 3']);
  });
});

describe('by names', () => {
  it('each pin to the finger of its name, several pads of a name to one', () => {
    const fingers = lead(3, 300, 2600).map((finger) => ({ ...finger, name: `P${finger.name}` }));
    expect(bonded({ by: 'names' }, fingers)).toEqual(
      Array.from({ length: 12 }, (_, i) => `P${i + 1} P${i + 1}`),
    );
  });
});
