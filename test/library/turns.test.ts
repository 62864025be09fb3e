/**
 * LEF SYMMETRY as turns of the drawing, mirrored x to -x first.
 * Source of the values: the LEF reference 5.8, from memory: X allows N and FS, Y N and FN, X Y those and S, X Y R90 all
 * eight; FS is our mirror with a half turn, FN our mirror. R90 alone: the four turns, by composition.
 */
import { describe, expect, it } from 'vitest';
import { turnsOfSymmetry } from '../../src/library/turns.ts';

describe('turnsOfSymmetry', () => {
  it('gives what the listed symmetries generate together', () => {
    expect(turnsOfSymmetry([])).toEqual({ plain: [0], mirrored: [] });
    expect(turnsOfSymmetry(['X'])).toEqual({ plain: [0], mirrored: [180] });
    expect(turnsOfSymmetry(['Y'])).toEqual({ plain: [0], mirrored: [0] });
    expect(turnsOfSymmetry(['X', 'Y'])).toEqual({ plain: [0, 180], mirrored: [0, 180] });
    expect(turnsOfSymmetry(['R90'])).toEqual({ plain: [0, 90, 180, 270], mirrored: [] });
    const all = { plain: [0, 90, 180, 270], mirrored: [0, 90, 180, 270] };
    expect(turnsOfSymmetry(['R90', 'Y'])).toEqual(all);
    expect(turnsOfSymmetry(['X', 'Y', 'R90'])).toEqual(all);
    expect(turnsOfSymmetry(['X', 'toString', 'Z'])).toEqual({ plain: [0], mirrored: [180] });
  });
});
