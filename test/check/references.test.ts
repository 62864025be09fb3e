/**
 * Shows: every name that the demands and the package of a placement speak by is that of something, once, and of the
 * right kind; a placement edited later is told where one is not, so that no check falls silent by a slip of the pen.
 * Source: a reviewer's list of slips that went unseen; the demonstration as it is laid is sound.
 */

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { judge } from '../../src/check/judge.ts';
import type { Placement } from '../../src/format/placement.ts';
import { found } from '../../src/problems/problem.ts';
import { run } from '../../src/run.ts';
import type { Draft } from './operators/operator.ts';

const laid = (path: string): Placement => {
  const outcome = run((wanted) => found(readFileSync(wanted, 'utf8')), path);
  if (outcome.kind !== 'laid') throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.placement;
};

const PLACEMENT = laid('fixtures/lamp-controller/ring.yaml');

type Demands = NonNullable<Draft['rules']['electrical']>;
type Bonded = NonNullable<Draft['package']>;

/** What is found after an edit, as `rule: items`. */
function told(edit: (demands: Demands, bonded: Bonded, p: Draft) => void): readonly string[] {
  const draft = structuredClone(PLACEMENT) as Draft;
  const { electrical } = draft.rules;
  if (electrical === undefined || draft.package === undefined) throw new Error('nothing to edit');
  edit(electrical, draft.package, draft);
  return judge(draft as Placement)
    .filter((f) => f.severity !== 'note')
    .map((f) => `${f.rule}: ${f.items.join(' ')}`);
}

const pinOf = (p: Draft, kind: string): string => {
  const nets = new Set(p.nets.filter((net) => net.kind === kind).map((net) => net.name));
  return p.bondPads.find((pad) => nets.has(pad.net))?.pin ?? '';
};
const netOf = (p: Draft, kind: string): string => p.nets.find((net) => net.kind === kind)?.name ?? '';
const plain = (name: string, pins: string[]): Demands['outputs'][number] => ({
  name,
  pins,
  current: 1,
  slope: null,
  edge: null,
  load: null,
  swing: null,
});

describe('the demands', () => {
  it('are sound as they are laid', () => {
    expect(told(() => {})).toEqual([]);
  });

  it.each<readonly [string, (demands: Demands, bonded: Bonded, p: Draft) => void, readonly string[]]>([
    ['noise', (d) => void Object.assign(d.noise, { digtal: 0.3 }), ['unknown-name: digtal']],
    ['core', (d) => void Object.assign(d.core, { vdd_: 3 }), ['unknown-name: vdd_']],
    ['drop', (d) => void Object.assign(d.drop, { constructor: 0.1 }), ['unknown-name: constructor']],
    ['outputs', (d) => void d.outputs.push(plain('new', ['P_'])), ['unknown-name: P_']],
    [
      'together',
      (d) => void d.together.push(['card', 'flush']),
      ['unknown-name: card', 'unknown-name: flush'],
    ],
  ])('%s of what there is not', (_, edit, expected) => {
    expect(told(edit)).toEqual(expected);
  });

  it('budgets and currents of nets of another kind', () => {
    for (const kind of ['ground', 'signal'])
      expect(told((d, _, p) => void Object.assign(d.core, { [netOf(p, kind)]: 3 }))).toEqual([
        `unknown-name: ${netOf(PLACEMENT as Draft, kind)}`,
      ]);
    expect(told((d, _, p) => void Object.assign(d.drop, { [netOf(p, 'signal')]: 0.1 }))).toEqual([
      `unknown-name: ${netOf(PLACEMENT as Draft, 'signal')}`,
    ]);
    expect(told((d, _, p) => void Object.assign(d.drop, { [netOf(p, 'ground')]: 0.1 }))).toEqual([]);
  });

  it("a supply's pin as an output", () => {
    const pin = pinOf(PLACEMENT as Draft, 'supply');
    expect(told((d) => void d.outputs.push(plain('fed', [pin])))).toEqual([`unknown-name: ${pin}`]);
  });

  it('what is listed twice', () => {
    const first = PLACEMENT.rules.electrical?.outputs[0];
    const [name, pin] = [first?.name ?? '', first?.pins[0] ?? ''];
    expect(told((d) => void d.outputs.push(plain(name, [])))).toEqual([`duplicate-name: ${name}`]);
    expect(told((d) => void d.outputs.push(plain('other', [pin])))).toEqual([`duplicate-name: ${pin}`]);
    expect(told((d) => void d.together.push([name, name]))).toEqual([`duplicate-name: ${name}`]);
    expect(told((d) => void d.layers.push({ name: 'M4', sheetResistance: 7, limits: [] }))).toEqual([
      'duplicate-name: M4',
    ]);
  });

  it('a layer under a name on which nothing is drawn', () => {
    expect(
      told((d) => {
        for (const layer of d.layers) if (layer.name === 'M4') layer.name = 'M_4';
      }),
    ).toEqual(['name-unused: M4 M_4']);
    // One more than is needed harms nobody.
    expect(told((d) => void d.layers.push({ name: 'M7', sheetResistance: 1, limits: [] }))).toEqual([]);
  });

  it('current limits that are not the coolest first', () => {
    expect(told((d) => void d.layers[0]?.limits.reverse())).toEqual([
      `limits: ${PLACEMENT.rules.electrical?.layers[0]?.name}`,
    ]);
  });
});

describe('the package', () => {
  it.each<readonly [string, (bonded: Bonded) => void]>([
    ['currents', (b) => void Object.assign(b.wires.currents, { VDDD: 5 })],
    ['pins without a wire', (b) => void b.unbonded.push('VDDD')],
    ['exchanges', (b) => void b.exchange.push(['VDDD'])],
  ])('%s of pins that there are not', (_, edit) => {
    expect(told((_demands, b) => edit(b))).toEqual(['unknown-name: VDDD']);
  });

  it('a pin twice among those that take places', () => {
    const pin = pinOf(PLACEMENT as Draft, 'signal');
    expect(told((_, b) => void b.exchange.push([pin, pin]))).toEqual([`duplicate-name: ${pin}`]);
  });
});

describe('the fingers', () => {
  const rules = (edit: (bonded: Bonded) => void): readonly string[] => [
    ...new Set(told((_, b) => edit(b)).map((line) => line.replace(/:.*/, ''))),
  ];

  it('one that lies a micrometre from another', () => {
    const [first] = PLACEMENT.package?.fingers ?? [];
    if (first === undefined) throw new Error('no finger');
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
    ] as const)
      expect(
        told(
          (_, b) => void b.fingers.push({ ...first, name: 'new', x: first.x + dx, y: first.y + dy }),
        ).filter((line) => line.startsWith('finger-short')).length,
      ).toBeGreaterThan(0);
    // In another tier, which lies above, it is a finger of its own.
    expect(told((_, b) => void b.fingers.push({ ...first, name: 'new', x: first.x + 1, tier: 2 }))).toEqual(
      [],
    );
  });

  it('wider than their pitch; as wide as it they only touch', () => {
    const pitch = 85;
    const wide = (width: number) => (b: Bonded) => {
      for (const finger of b.fingers) finger.width = width;
    };
    expect(rules(wide(pitch + 1))).toEqual(['finger-short']);
    expect(rules(wide(pitch))).toEqual([]);
    expect(rules(wide(1000))).toEqual(['finger-short']);
  });

  it('turned around, or all of one side', () => {
    expect(
      rules((b) => {
        for (const finger of b.fingers) finger.angle += 180;
      }),
    ).toEqual(['finger-place']);
    expect(
      rules((b) => {
        for (const finger of b.fingers) finger.side = 'left';
      }),
    ).toEqual(['finger-place']);
  });
});

describe('the figures of wires', () => {
  const wires = (more: Partial<Bonded['wires']>) =>
    told((_, b) => void Object.assign(b.wires, more)).filter((line) => line.startsWith('limits'));

  it.each<readonly [string, Partial<Bonded['wires']>, Partial<Bonded['wires']>, string]>([
    ['a foot narrower than its wire', { foot: 19.9 }, { foot: 20 }, 'foot'],
    ['feet in each other', { pitch: 19.9 }, { pitch: 20 }, 'pitch'],
    [
      'loops lower than a wire is thick',
      { loops: [{ row: null, tier: null, height: 0.001 }] },
      { loops: [{ row: null, tier: null, height: 20 }] },
      'loops',
    ],
  ])('%s', (_, wrong, right, item) => {
    expect(wires(wrong)).toEqual([`limits: ${item}`]);
    expect(wires(right)).toEqual([]);
  });

  it('no loop at all, or none for a row', () => {
    expect(wires({ loops: [] }).length).toBeGreaterThan(0);
    expect(wires({ loops: [{ row: 'outer', tier: null, height: 150 }] })).toHaveLength(1);
  });

  it('a tier above nothing', () => {
    const tiers = told((_, b) => {
      for (const finger of b.fingers.slice(0, 2)) finger.tier = 99;
    });
    expect(tiers.filter((line) => line.startsWith('limits'))).toEqual([
      `limits: ${PLACEMENT.package?.fingers[0]?.name}`,
    ]);
  });

  it('spans that no wire has, and other wires in the demands', () => {
    expect(told((_, b) => void Object.assign(b.limits, { span: { least: 3, most: 2 } }))).toContain(
      'limits: span',
    );
    const nominal = (diameter: number) =>
      told((d) => void Object.assign(d, { wires: { metal: 'gold', diameter, length: 1000, lead: 5 } }));
    expect(nominal(250)).toEqual(['limits: wires']);
    expect(nominal(20)).toEqual([]);
  });
});
