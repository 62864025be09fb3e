/** For keys.test.ts: a change of each key of `package`, and what becomes of the resolved package. */
import type { Package } from '../../src/spec/package.ts';
import type { Ring } from '../../src/spec/ring.ts';
import { type Given, um } from './sample.ts';

type Swap = readonly [string, string];

interface PackageChange {
  readonly before: readonly Swap[];
  readonly swap: readonly Swap[];
  readonly given?: Given;
  readonly read: (ring: Ring) => unknown;
  readonly becomes: unknown;
}

/** A package of sixteen fingers for the sample ring of six pins. */
export const PACKAGE = `package:
  name: lead-16
  fingers: {count: 16, pitch: 200, distance: 2000, width: 100}
  wires: {diameter: 25}
`;

const LIST = `package:
  name: six
  fingers:
    - {name: A0, x: -2000, y: 200, width: 100, angle: 180}
    - {name: A1, x: -2000, y: -200, width: 100, angle: 180}
    - {name: VDD, x: -200, y: -2000, width: 100, angle: -90}
    - {name: VSS, x: 200, y: -2000, width: 100, angle: -90}
    - {name: VDDIO, x: 2000, y: 0, width: 100, angle: 0}
    - {name: VSSIO, x: 0, y: 2000, width: 100, angle: 90}
  wires: {diameter: 25}
`;

const CSV = `name,x,y,width,angle
A0,-2000,200,100,180
A1,-2000,-200,100,180
VDD,-200,-2000,100,-90
VSS,200,-2000,100,-90
VDDIO,2000,0,100,0
VSSIO,0,2000,100,90
`;

const packageOf = (ring: Ring): Package => {
  if (ring.package === undefined) throw new Error('the ring has no package');
  return ring.package;
};

const put = (text: string): readonly Swap[] => [['sides:\n', `${text}sides:\n`]];

const change = (
  from: string,
  to: string,
  read: (bonded: Package) => unknown,
  becomes: unknown,
  before: readonly Swap[] = [],
  text = PACKAGE,
): PackageChange => ({
  before: [...put(text), ...before],
  swap: [[from, to]],
  read: (ring) => read(packageOf(ring)),
  becomes,
});

const LAST = '  wires: {diameter: 25}\n';
/** A further key of the package. */
const more = (
  key: string,
  read: (bonded: Package) => unknown,
  becomes: unknown,
  before: readonly Swap[] = [],
) => change(LAST, `${LAST}  ${key}\n`, read, becomes, before);
const FIRST_FINGER = 'x: -2000, y: 200, width: 100, angle: 180';
const finger = (from: string, to: string, read: (bonded: Package) => unknown, becomes: unknown) =>
  change(FIRST_FINGER, FIRST_FINGER.replace(from, to), read, becomes, [], LIST);
const wires = (
  key: string,
  read: (bonded: Package) => unknown,
  becomes: unknown,
  before: readonly Swap[] = [],
) => change('diameter: 25', `diameter: 25, ${key}`, read, becomes, before);
const TWO_TIERS: readonly Swap[] = [['width: 100}', 'width: 100, tiers: 2, tierDistance: 300}']];
const PAD_ROWS: readonly Swap[] = [['edge: {street: 40}', 'edge: {street: 40}\nstyle: staggered']];
const paddle = (drop: string) => `paddle: {width: 3000, height: 2800, reach: 250${drop}}`;
const WITH_PADDLE: readonly Swap[] = [[LAST, `${LAST}  ${paddle('')}\n`]];

export const PACKAGE_KEYS: Readonly<Record<string, PackageChange>> = {
  'package.name': change('lead-16', 'lead-x', (p) => p.name, 'lead-x'),
  'package.cavity.width': more('cavity: {width: 3000, height: 2800}', (p) => p.cavity?.width, um(3000)),
  'package.cavity.height': more('cavity: {width: 3000, height: 2800}', (p) => p.cavity?.height, um(2800)),
  'package.paddle.width': more(paddle(''), (p) => p.paddle?.width, um(3000)),
  'package.paddle.height': more(paddle(''), (p) => p.paddle?.height, um(2800)),
  'package.paddle.reach': more(paddle(''), (p) => p.paddle?.reach, um(250)),
  'package.paddle.drop': more(paddle(', drop: 300'), (p) => p.paddle?.drop, um(300)),
  'package.die.x': more('die: {x: -20}', (p) => p.die.x, um(-20)),
  'package.die.y': more('die: {y: 30}', (p) => p.die.y, um(30)),
  'package.die.rotation': more('die: {rotation: 180}', (p) => p.die.rotation, 180),
  'package.fingers': {
    before: put(LIST),
    swap: [[LIST.slice(LIST.indexOf('  fingers'), LIST.indexOf('  wires')), '  fingers: other.csv\n']],
    given: { files: { 'other.csv': CSV.replace('A0,-2000,200', 'A0,-2100,200') } },
    read: (ring) => packageOf(ring).fingers[0]?.x,
    becomes: um(-2100),
  },
  'package.fingers[].name': change('name: A0', 'name: 7', (p) => p.fingers[0]?.name, '7', [], LIST),
  'package.fingers[].x': finger('x: -2000', 'x: -2100', (p) => p.fingers[0]?.x, um(-2100)),
  'package.fingers[].y': finger('y: 200', 'y: 210', (p) => p.fingers[0]?.y, um(210)),
  'package.fingers[].width': finger('width: 100', 'width: 90', (p) => p.fingers[0]?.width, um(90)),
  'package.fingers[].angle': finger('angle: 180', 'angle: 170', (p) => p.fingers[0]?.angle, 170),
  'package.fingers[].tier': finger('angle: 180', 'angle: 180, tier: 2', (p) => p.fingers[0]?.tier, 2),
  'package.fingers.sides[]': change(
    'count: 16',
    'sides: [top, left, bottom, right], count: 16',
    (p) => p.fingers[0]?.side,
    'top',
  ),
  'package.fingers.count': change('count: 16', 'count: 20', (p) => p.fingers.length, 20),
  'package.fingers.pitch': change('pitch: 200', 'pitch: 240', (p) => p.fingers[0]?.y, um(360)),
  'package.fingers.distance': change('distance: 2000', 'distance: 2100', (p) => p.fingers[0]?.x, um(-2100)),
  'package.fingers.width': change('width: 100', 'width: 90', (p) => p.fingers[0]?.width, um(90)),
  'package.fingers.tiers': change(
    'width: 100}',
    'width: 100, tiers: 2, tierDistance: 300}',
    (p) => p.fingers.slice(0, 2).map((f) => [f.tier, f.x, f.y]),
    [
      [1, um(-2000), um(150)],
      [2, um(-2300), um(50)],
    ],
  ),
  'package.fingers.tierDistance': change(
    'tierDistance: 300',
    'tierDistance: 400',
    (p) => p.fingers[1]?.x,
    um(-2400),
    TWO_TIERS,
  ),
  'package.bonds.by': more('bonds: {by: order}', (p) => p.bonds.by, 'order'),
  'package.bonds.first': more('bonds: {by: order, first: 3}', (p) => p.bonds.first, 2),
  'package.bonds.free[]': more('bonds: {free: [1]}', (p) => p.bonds.free, ['1']),
  'package.bonds.to.*': more('bonds: {to: {A0: 5}}', (p) => [...p.bonds.to], [['A0', ['5']]]),
  'package.bonds.to.*[]': more(
    'bonds: {to: {VSS: [5, paddle]}}',
    (p) => [...p.bonds.to],
    [['VSS', ['5', 'paddle']]],
    WITH_PADDLE,
  ),
  'package.bonds.unbonded[]': more('bonds: {unbonded: [A1]}', (p) => p.bonds.unbonded, ['A1']),
  'package.bonds.exchange[][]': more(
    'bonds: {to: {A0: 2, A1: 3}, exchange: [[A0, A1]]}',
    (p) => p.bonds.exchange,
    [['A0', 'A1']],
  ),
  'package.wires.metal': wires('metal: copper', (p) => p.wires.metal, 'copper'),
  'package.wires.diameter': change('diameter: 25', 'diameter: 20', (p) => [p.wires.diameter, p.wires.foot], [
    um(20),
    um(50),
  ]),
  'package.wires.foot': wires('foot: 70', (p) => [p.wires.foot, p.wires.pitch], [um(70), um(70)]),
  'package.wires.pitch': wires('pitch: 80', (p) => p.wires.pitch, um(80)),
  'package.wires.loops[].row': wires(
    'loops: [{row: inner, height: 250}]',
    (p) => p.wires.loops.at(-1),
    { row: 'inner', tier: null, height: um(250) },
    PAD_ROWS,
  ),
  'package.wires.loops[].tier': wires(
    'loops: [{tier: 2, height: 250}]',
    (p) => p.wires.loops.at(-1),
    { row: null, tier: 2, height: um(250) },
    TWO_TIERS,
  ),
  'package.wires.loops[].height': wires(
    'loops: [{height: 120}]',
    (p) => p.wires.loops.at(-1)?.height,
    um(120),
  ),
  'package.wires.drops[]': wires('drops: [200]', (p) => p.wires.drops, [um(200)]),
  'package.wires.lead': wires('lead: 1.5', (p) => p.wires.lead, 1.5),
  'package.wires.currents.*': wires('currents: {VDD: 0.3}', (p) => [...p.wires.currents], [['VDD', 0.3]]),
  'package.limits.span.least': more('limits: {span: {least: 500}}', (p) => p.limits.span.least, um(500)),
  'package.limits.span.most': more('limits: {span: {most: 2500}}', (p) => p.limits.span.most, um(2500)),
  'package.limits.length': more('limits: {length: 3000}', (p) => p.limits.length, um(3000)),
  'package.limits.angle': more('limits: {angle: 40}', (p) => p.limits.angle, 40),
  'package.limits.wireSpacing': more(
    'limits: {wireSpacing: 30}',
    (p) => [p.limits.wireSpacing, p.limits.height],
    [um(30), um(55)],
  ),
  'package.limits.padSpacing': more('limits: {padSpacing: 12}', (p) => p.limits.padSpacing, um(12)),
  'package.limits.height': more('limits: {height: 80}', (p) => p.limits.height, um(80)),
};
