/** Corruptions of the names that demands and package speak by, and of the figures they give. */
import { type Dice, type Draft, type Operator, operator } from './operator.ts';

type Demands = NonNullable<Draft['rules']['electrical']>;

/** The demands of a placement; such as ask for nothing where it has none. */
function demandsOf(p: Draft): Demands {
  p.rules.electrical ??= {
    celsius: null,
    layers: [],
    wires: null,
    core: {},
    outputs: [],
    together: [],
    noise: {},
    drop: {},
    discharge: null,
    decoupling: null,
    supplies: 'given',
    coreStrips: null,
  };
  return p.rules.electrical;
}

type Bonded = NonNullable<Draft['package']>;

/** The package of a placement; one without fingers where it has none. */
function packageOf(p: Draft): Bonded {
  p.package ??= {
    name: 'bare',
    cavity: null,
    paddle: null,
    die: { x: 0, y: 0, rotation: 0 },
    fingers: [],
    bonds: [],
    unbonded: [],
    exchange: [],
    wires: {
      metal: 'gold',
      diameter: 25,
      foot: 60,
      pitch: 60,
      loops: [{ row: null, tier: null, height: 150 }],
      drops: [],
      lead: null,
      currents: {},
    },
    limits: {
      span: { least: null, most: null },
      length: null,
      angle: null,
      wireSpacing: 25,
      padSpacing: 0,
      height: 50,
    },
  };
  return p.package;
}

/** Some finger of the package; one on the left side where there is none. */
function fingerOf(p: Draft, dice: Dice): Bonded['fingers'][number] {
  const { fingers } = packageOf(p);
  const made = { name: 'only', x: -9000, y: 0, width: 100, angle: 180, tier: 1, side: 'left' as const };
  if (fingers.length === 0) fingers.push(made);
  return dice.of(fingers) ?? made;
}

const output = (name: string, pins: string[]): Demands['outputs'][number] => ({
  name,
  pins,
  current: 1,
  slope: null,
  edge: null,
  load: null,
  swing: null,
});

/** A name that is a misspelt one of a list, or one that every object has. */
const misspelt = (names: readonly string[], dice: Dice): string =>
  dice.below(4) === 0 ? 'constructor' : `${dice.of(names) ?? 'no'}_x`;

const signalPin = (p: Draft, dice: Dice): string | undefined => {
  const signals = new Set(p.nets.filter((net) => net.kind === 'signal').map((net) => net.name));
  const free = p.bondPads.filter(
    (pad) => signals.has(pad.net) && !p.rules.electrical?.outputs.some((o) => o.pins.includes(pad.pin)),
  );
  return dice.of(free)?.pin;
};

export const REFERENCE_OPERATORS: readonly Operator[] = [
  operator('a noise budget of a section that there is not', 'unknown-name', (p, dice) => {
    demandsOf(p).noise[
      misspelt(
        p.sections.map((s) => s.name),
        dice,
      )
    ] = 0.3;
  }),
  operator('a core current or a drop budget of a net that there is not', 'unknown-name', (p, dice) => {
    demandsOf(p)[dice.of(['core', 'drop'] as const) ?? 'core'][
      misspelt(
        p.nets.map((n) => n.name),
        dice,
      )
    ] = 1;
  }),
  operator('a drop budget of a signal', 'unknown-name', (p, dice) => {
    const net = dice.of(p.nets.filter((one) => one.kind === 'signal'));
    if (net === undefined) return false;
    demandsOf(p).drop[net.name] = 0.05;
    return true;
  }),
  operator('a core current of a ground', 'unknown-name', (p, dice) => {
    const net = dice.of(p.nets.filter((one) => one.kind === 'ground'));
    if (net === undefined) return false;
    demandsOf(p).core[net.name] = 5;
    return true;
  }),
  operator('an output with a pin that there is not', 'unknown-name', (p, dice) => {
    demandsOf(p).outputs.push(
      output('lost', [
        misspelt(
          p.bondPads.map((pad) => pad.pin),
          dice,
        ),
      ]),
    );
  }),
  operator("an output with a supply's pin", 'unknown-name', (p, dice) => {
    const nets = new Set(p.nets.filter((net) => net.kind !== 'signal').map((net) => net.name));
    const pad = dice.of(p.bondPads.filter((one) => nets.has(one.net)));
    if (pad === undefined) return false;
    demandsOf(p).outputs.push(output('fed', [pad.pin]));
    return true;
  }),
  operator('outputs together that there are not', 'unknown-name', (p) => {
    demandsOf(p).together.push(['card', 'flush']);
  }),
  operator('a core strip asked for a net that there is not', 'unknown-name', (p) => {
    demandsOf(p).coreStrips = { nets: ['nowhere'], layer: 'M9', width: 4, spacing: 1, clearance: 1 };
  }),
  operator('a core strip half a step beside the grid', 'off-grid', (p, dice) => {
    const net = dice.of(p.nets)?.name ?? 'vdd';
    const at = { x: 1.5 * p.units.grid, y: 0, width: p.units.grid, height: p.units.grid };
    p.coreStrips ??= [{ net, layer: 'M6', width: p.units.grid, rectangles: [], straps: [] }];
    const strip = dice.of(p.coreStrips);
    strip?.rectangles.push({ layer: 'M6', ...at });
    return strip !== undefined;
  }),
  operator('a pin of two outputs', 'duplicate-name', (p, dice) => {
    const pin = signalPin(p, dice);
    if (pin === undefined) return false;
    demandsOf(p).outputs.push(output('once', [pin]), output('again', [pin]));
    return true;
  }),
  operator('two outputs of one name', 'duplicate-name', (p) => {
    demandsOf(p).outputs.push(output('twin', []), output('twin', []));
  }),
  operator('a layer listed twice', 'duplicate-name', (p) => {
    const { layers } = demandsOf(p);
    const layer = layers[0] ?? { name: 'M4', sheetResistance: 0.05, limits: [] };
    layers.push(layer, { ...layer, sheetResistance: 5 });
  }),
  operator('a layer under another name', 'name-unused', (p) => {
    const { layers } = demandsOf(p);
    if (layers.length === 0) layers.push({ name: 'M4', sheetResistance: 0.05, limits: [] });
    const drawn = new Set(p.footprints.flatMap((f) => f.lanes.flatMap((l) => l.strips.map((s) => s.layer))));
    const layer = layers.find(({ name }) => drawn.has(name));
    if (layer === undefined) return false;
    layer.name = `${layer.name}_x`;
    return true;
  }),
  operator('current limits of a layer with the hottest first', 'limits', (p) => {
    const { layers } = demandsOf(p);
    if (layers.length === 0) layers.push({ name: 'M4', sheetResistance: 0.05, limits: [] });
    for (const layer of layers)
      layer.limits = [
        { celsius: 125, perMicrometre: 1 },
        { celsius: 85, perMicrometre: 2 },
      ];
  }),
  operator('a wire current of a pin that there is not', 'unknown-name', (p, dice) => {
    packageOf(p).wires.currents[
      misspelt(
        p.bondPads.map((pad) => pad.pin),
        dice,
      )
    ] = 5;
  }),
  operator('a pin without a wire that there is not', 'unknown-name', (p, dice) => {
    packageOf(p).unbonded.push(
      misspelt(
        p.bondPads.map((pad) => pad.pin),
        dice,
      ),
    );
  }),
  operator('a pin to exchange that there is not', 'unknown-name', (p, dice) => {
    packageOf(p).exchange.push([
      misspelt(
        p.bondPads.map((pad) => pad.pin),
        dice,
      ),
    ]);
  }),
  operator('a finger a micrometre from another', 'finger-short', (p, dice) => {
    const finger = fingerOf(p, dice);
    packageOf(p).fingers.push({ ...finger, name: 'beside', x: finger.x + 1 });
  }),
  operator('a finger that leads toward the die', 'finger-place', (p, dice) => {
    fingerOf(p, dice).angle += 180;
  }),
  operator('a finger of the side across', 'finger-place', (p, dice) => {
    const finger = fingerOf(p, dice);
    finger.side = ({ left: 'right', right: 'left', bottom: 'top', top: 'bottom' } as const)[finger.side];
  }),
  operator('a foot narrower than its wire', 'limits', (p) => {
    const { wires } = packageOf(p);
    wires.foot = wires.diameter / 2;
  }),
  operator('feet that stand in each other', 'limits', (p) => {
    packageOf(p).wires.pitch = 0.1;
  }),
  operator('a loop lower than its wire is thick', 'limits', (p) => {
    packageOf(p).wires.loops.push({ row: null, tier: null, height: 0.001 });
  }),
  operator('wires without a loop', 'limits', (p, dice) => {
    const finger = fingerOf(p, dice);
    const bonded = packageOf(p);
    const pad = dice.of(p.bondPads);
    if (pad === undefined) return false;
    if (bonded.bonds.length === 0) bonded.bonds.push({ bondPad: pad.number, finger: finger.name });
    bonded.wires.loops = [];
    return true;
  }),
  operator('a finger of a tier above nothing', 'limits', (p, dice) => {
    fingerOf(p, dice).tier = 99;
  }),
  operator('the supplies of a rail among those that are to have no wire', 'arc-unfed', (p, dice) => {
    const rail = dice.of(p.rails.filter(({ supplies }) => supplies.length > 0));
    if (rail === undefined) return false;
    const pads = p.bondPads.filter((pad) => rail.supplies.includes(pad.cell));
    const numbers = new Set(pads.map((pad) => pad.number));
    const bonded = packageOf(p);
    bonded.bonds = bonded.bonds.filter((bond) => !numbers.has(bond.bondPad));
    for (const { pin } of pads) {
      if (!bonded.unbonded.includes(pin)) bonded.unbonded.push(pin);
      for (const one of p.pins ?? []) if (one.name === pin) delete one.fingers;
    }
    return true;
  }),
  operator('other wires in the demands than in the package', 'limits', (p) => {
    const { metal, diameter } = packageOf(p).wires;
    demandsOf(p).wires = { metal, diameter: 10 * diameter, length: 1000, lead: null };
  }),
];
