/**
 * Shows: holes that a third review found stay closed. Nothing that can be written into a file crashes or stalls the
 * checker; groups of thousands of pins are compared whole; metal of straps lies nowhere but between landing and strip;
 * a cell drawn for the vertical sides stands for no other on a horizontal one; a landing joins its lanes without a bond
 * pad, too; and break cells side by side are no short.
 * Source: ring-model sections 1, 5 and 9 and the placement file, field by field, on demonstrations and samples.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement } from '../../src/format/placement.ts';
import { found } from '../../src/problems/problem.ts';
import { findingsOf, run } from '../../src/run.ts';
import type { Draft, DraftFootprint } from './operators/operator.ts';
import { samples } from './samples.ts';

/** The demonstration with a package and demands, its description edited. */
function gauge(edit: (text: string) => string = (text) => text): Placement {
  const outcome = run(
    (path) =>
      found(path.endsWith('ring.yaml') ? edit(readFileSync(path, 'utf8')) : readFileSync(path, 'utf8')),
    'fixtures/tide-gauge/ring.yaml',
  );
  if (outcome.kind !== 'laid') throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.placement;
}

const inline = (): Placement => {
  const sample = samples().find(({ name }) => name === 'inline');
  if (sample === undefined) throw new Error('no sample is inline');
  return sample.placement;
};

/** The errors that an edit brings, as `rule: message`. */
function errorsOf(
  placement: Placement,
  edit: (p: Draft) => void,
  look: (p: Placement) => Placement['findings'] = judge,
): readonly string[] {
  const draft: Draft = JSON.parse(JSON.stringify(placement));
  edit(draft);
  const edited: Placement = draft;
  return look(edited)
    .filter((f) => f.severity === 'error')
    .map((f) => `${f.rule}: ${f.message}`);
}

const footprintNamed = (p: Draft, name: string): DraftFootprint => {
  const f = p.footprints.find((one) => one.name === name);
  if (f === undefined) throw new Error(`no footprint ${name}`);
  return f;
};

describe('what cannot be worked out is told and not tripped over', () => {
  const placement = gauge();
  /** Every strip from the outward edge to so far inward. */
  const thinStrips =
    (to: number) =>
    (p: Draft): void => {
      for (const f of p.footprints)
        for (const lane of f.lanes) for (const strip of lane.strips) Object.assign(strip, { from: 0, to });
    };
  it.each<readonly [string, string, (p: Draft) => void]>([
    [
      'a supply that is its own ground',
      'section-pairs',
      (p) => {
        for (const { pairs } of p.sections) for (const pair of pairs) pair.ground = pair.supply;
      },
    ],
    [
      'a ground on the net of its supply',
      'section-pairs',
      (p) => {
        for (const { lanes } of p.sections.slice(1)) if (lanes.VDD !== undefined) lanes.VSS = lanes.VDD;
      },
    ],
    [
      'all bond pads on one place',
      'pad-spacing',
      (p) => {
        for (const pad of p.bondPads) Object.assign(pad, { x: 100, y: 100 });
      },
    ],
    ['strips without an extent', 'footprint', thinStrips(0)],
    ['strips thinner than anything', 'inexact-length', thinStrips(1e-300)],
    [
      'grounds nearly a metre from their supplies',
      'outside-die',
      (p) => {
        for (const pad of p.bondPads) if (pad.pin.includes('VSS')) pad.x = 9e5;
      },
    ],
    [
      'a die that is a speck to its wires',
      'opening-too-short',
      (p) => {
        p.rules.shrink = 1e-6;
      },
    ],
    [
      'bond pads that are specks to their wires',
      'opening-too-short',
      (p) => {
        for (const pad of p.bondPads)
          Object.assign(pad, { width: 1e-6, height: 1e-6, opening: { width: 1e-6, height: 1e-6 } });
      },
    ],
  ])('%s', (_, rule, edit) => {
    expect(errorsOf(placement, edit, findingsOf).some((e) => e.startsWith(`${rule}: `))).toBe(true);
  });

  it.each([0, 1, 24.9])('wires whose heights differ by %s um pass no wire of 25 um above', (height) => {
    const errors = errorsOf(
      placement,
      (p) => {
        if (p.package !== undefined) p.package.limits.height = height;
      },
      findingsOf,
    );
    expect(errors.filter((e) => e.startsWith('limits: '))).toEqual([
      expect.stringMatching(/are to pass above each other, and are [\d.]+ um thick$/),
    ]);
  });
});

it.each(['left', 'bottom', 'right', 'top'] as const)(
  'of two groups of 2000 pins on the %s side the one pair too near is found',
  (side) => {
    const count = 4000;
    const upright = side === 'left' || side === 'right';
    const errors = errorsOf(inline(), (p) => {
      const [pad] = p.bondPads;
      if (pad === undefined) throw new Error('no bond pad');
      p.die = { width: 1e6, height: 1e6 };
      p.stems = [];
      p.bondPads = Array.from({ length: count }, (_, i) => ({
        ...pad,
        number: i + 1,
        pin: `Q${i}`,
        side,
        x: upright ? 100 : 1000 + 200 * i,
        y: upright ? 1000 + 200 * i : 100,
      }));
      const pins = p.bondPads.map(({ pin }) => pin);
      const [own, from] = [pins.slice(0, count / 2), pins.slice(count / 2)];
      p.rules.neighbours = [
        { kind: 'apart', pins: own, from, distance: 201 },
        { kind: 'apart', pins: from, from: own, distance: 201 },
      ];
    });
    expect(errors.filter((e) => e.startsWith('pins-apart'))).toEqual([
      'pins-apart: pins "Q1999" and "Q2000" are 200 um apart; at least 201 um are asked for',
      'pins-apart: pins "Q2000" and "Q1999" are 200 um apart; at least 201 um are asked for',
    ]);
  },
);

describe('core strips', () => {
  const placement = gauge((text) =>
    text
      .replace(
        'core: {width: 1000, height: 900, clearance: 20}',
        'core: {width: 900, height: 800, clearance: 60}',
      )
      .replace('drop: {vdd: 0.03', 'drop: {vdd: 0.06')
      .replace('vss: 0.03, vssio', 'vss: 0.06, vssio')
      .replace(
        'electrical:\n',
        'electrical:\n  coreStrips: {nets: [vdd, vss], layer: M6, width: 16, spacing: 4, clearance: 4}\n',
      ),
  );
  type Strip = NonNullable<Draft['coreStrips']>[number];
  type Strap = Strip['straps'][number];
  /** The first strap of the first strip, which stands on the left side, and its strip. */
  const first = (p: Draft): readonly [Strap, Strip] => {
    const strip = p.coreStrips?.[0];
    const strap = strip?.straps[0];
    if (strip === undefined || strap?.cell !== 'VDD') throw new Error('no strap on VDD');
    return [strap, strip];
  };
  const stray =
    (values: Partial<Strap>) =>
    (p: Draft): void => {
      const [strap, strip] = first(p);
      strip.straps.push({ ...strap, ...values });
    };
  const strayed =
    /^core-strip: a strap of the core strip of vdd does not lead from its landing on VDD straight/;
  const unjoined = /^core-strip: no strap joins the core strip of vdd to supply cell VDD$/;

  it('as they are laid', () => {
    expect(errorsOf(placement, () => {}, findingsOf)).toEqual([]);
  });

  it.each<readonly [string, (p: Draft) => void, RegExp]>([
    ['a second strap over the core', stray({ x: 700, y: 700 }), strayed],
    ['a second strap beyond the die', stray({ x: -500 }), strayed],
    ['a second strap over the cells, on a layer of its own', stray({ layer: 'M9', x: 133 }), strayed],
    ['a strap on into the core', (p) => void Object.assign(first(p)[0], { width: 300 }), unjoined],
    [
      'a strap that only touches its strip',
      (p) => {
        const [strap, { rectangles }] = first(p);
        strap.width = (rectangles[0]?.x ?? 0) - strap.x;
      },
      unjoined,
    ],
    [
      'a strap from the edge of the die on',
      (p) => {
        const [strap] = first(p);
        strap.width += strap.x;
        strap.x = 0;
      },
      unjoined,
    ],
    [
      'strips where none are to be',
      (p) => {
        if (p.rules.electrical !== undefined) p.rules.electrical.coreStrips = null;
      },
      /^core-strip: net vdd has a core strip, and is to have none$/,
    ],
  ])('%s', (_, edit, message) => {
    expect(errorsOf(placement, edit, findingsOf)).toContainEqual(expect.stringMatching(message));
  });
});

describe('cells', () => {
  it('one that is drawn for the vertical sides stands for no other on a horizontal one', () => {
    const errors = errorsOf(inline(), (p) => {
      for (const f of p.footprints) f.turns = { plain: [0, 90, 180, 270], mirrored: [0, 90, 180, 270] };
      const cell = p.cells.find((c) => c.side === 'bottom' && c.footprint === 'sig' && !c.mirrored);
      if (cell === undefined) throw new Error('no signal cell');
      // Drawn for the left side: a quarter turn brings its outward edge down.
      cell.footprint = 'sig_v';
      cell.rotation = 90;
      cell.origin = { x: cell.x + cell.width, y: cell.y };
    });
    expect(errors).toEqual([
      expect.stringMatching(/^pin-cell: .* was asked for in a sig$/),
      expect.stringMatching(/^cell-asked: .* is a sig_v; a sig was asked for$/),
    ]);
  });

  it('a landing joins the lanes that it feeds where no bond pad is on it, too', () => {
    const errors = errorsOf(inline(), (p) => {
      const landing = footprintNamed(p, 'skew').landings[0];
      if (landing === undefined) throw new Error('no landing');
      landing.feeds = ['VDD', 'VSS'];
      const cells = new Set(p.cells.filter((c) => c.footprint === 'skew').map((c) => c.name));
      p.bondPads = p.bondPads.filter((pad) => !cells.has(pad.cell));
    });
    expect(errors.filter((e) => e.startsWith('tie: ')).length).toBe(
      inline().cells.filter((c) => c.footprint === 'skew').length,
    );
  });

  it('two break cells side by side, each of which cuts half of the lanes, short nothing', () => {
    const errors = errorsOf(inline(), (p) => {
      const whole = p.cells.find((c) => c.footprint === 'part_all' && c.side === 'top' && !c.mirrored);
      if (whole === undefined) throw new Error('no break cell');
      const half = (name: string, cuts: (lane: string) => boolean): void => {
        const f = structuredClone(footprintNamed(p, 'part_all'));
        for (const { lane, strips } of f.lanes)
          for (const strip of strips) strip.carry = cuts(lane) ? 'cut' : 'through';
        p.footprints.push({ ...f, name, width: 3, diodes: [] });
      };
      half('part_io', (lane) => lane.endsWith('IO'));
      half('part_rest', (lane) => !lane.endsWith('IO'));
      const by = (x: number, footprint: string) => ({
        ...structuredClone(whole),
        name: footprint,
        footprint,
        x: whole.x + x,
        width: 3,
        // On the top side a drawing is turned half around.
        origin: { x: whole.x + x + 3, y: whole.origin.y },
      });
      p.cells.splice(p.cells.indexOf(whole), 1, by(3, 'part_io'), by(0, 'part_rest'));
      const listed = p.partings.find((one) => one.cell === whole.name);
      if (listed === undefined) throw new Error('no parting');
      p.partings.push(
        { ...listed, cell: 'part_io', lanes: ['VDDIO', 'VSSIO'] },
        { ...listed, cell: 'part_rest', lanes: ['VDD', 'VSS'] },
      );
      p.partings.splice(p.partings.indexOf(listed), 1);
    });
    // The rails are listed as they were.
    expect(new Set(errors.map((e) => e.split(': ')[0]))).toEqual(new Set(['rails']));
  });
});
