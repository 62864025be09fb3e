/** For keys.test.ts: a change of each key of `order` and of a die that is not given in full. */
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { type Given, PLAIN_RING, um } from './sample.ts';

type Swap = readonly [string, string];

interface Change {
  readonly swap: readonly Swap[];
  readonly before?: readonly Swap[];
  readonly given?: Given;
  readonly read: (ring: Ring) => unknown;
  readonly becomes: unknown;
}

const SIDES_LIST = PLAIN_RING.slice(PLAIN_RING.indexOf('sides:'));
const ORDER_LIST = `order:
  cells:
    - {pin: A0, cell: io_bi}
    - {pin: A1, cell: io_bi}
    - {cell: clamp}
    - {pin: VDD, cell: pw_vdd}
    - {pin: VSS, cell: pw_vss}
    - {pin: VDDIO, cell: pw_vddio}
    - {pin: VSSIO, cell: pw_vssio}
`;
/** The sample ring with its pins on no side. */
export const FREED: Swap = [SIDES_LIST, ORDER_LIST];
const grouped = (groups: string): Swap => [ORDER_LIST, `${ORDER_LIST}  groups: ${groups}\n`];

const first = (ring: Ring): Entry => {
  const entry = ring.order?.cells[0]?.on.left;
  if (entry === undefined) throw new Error('the order is empty');
  return entry;
};
const sidesOf = (ring: Ring): readonly (readonly string[])[] =>
  ring.order?.cells.map(({ on }) => Object.keys(on)) ?? [];
const GIVEN = 'die: {width: 2000, height: 1800}';
const ALL = ['left', 'bottom', 'right', 'top'];

/** The keys of a cell are those of a cell on a side; `entry` has a change of each. */
export const orderKeys = (entry: Readonly<Record<string, Change>>): Readonly<Record<string, Change>> => ({
  ...Object.fromEntries(
    Object.entries(entry).map(([key, change]): [string, Change] => [
      `order.cells[].${key}`,
      {
        ...change,
        before: [FREED, ...(change.before ?? []).filter(([from]) => !from.includes('sides:'))],
        read: (ring) =>
          change.read({
            ...ring,
            sides: { ...ring.sides, left: { ...ring.sides.left, entries: [first(ring)] } },
          }),
      },
    ]),
  ),
  'order.cells[].at': {
    before: [FREED],
    swap: [['{pin: A0, cell: io_bi}', '{pin: A0, cell: io_bi, side: left, at: 500}']],
    read: (ring) => first(ring).at,
    becomes: um(500),
  },
  'order.cells[].side': {
    before: [FREED],
    swap: [['{pin: A1, cell: io_bi}', '{pin: A1, cell: io_bi, side: top}']],
    read: (ring) => sidesOf(ring).slice(0, 2),
    becomes: [ALL, ['top']],
  },
  'order.pins': {
    before: [[SIDES_LIST, 'order: {pins: one.csv}\n']],
    swap: [['one.csv', 'two.csv']],
    given: {
      files: {
        'one.csv': 'pin,cell\nA0,io_bi\nA1,io_bi\n',
        'two.csv': 'pin,cell,side\nA0,io_bi,\nA1,io_bi,right\n',
      },
    },
    read: sidesOf,
    becomes: [ALL, ['right']],
  },
  'order.groups[].pins[]': {
    before: [FREED, grouped('[{pins: [A0, A1], whole: true}]')],
    swap: [['pins: [A0, A1]', 'pins: [VDD, VSS]']],
    read: (ring) => ring.order?.groups.map((g) => g.cells),
    becomes: [[3, 4]],
  },
  'order.groups[].sides[]': {
    before: [FREED, grouped('[{pins: [A1], sides: [top]}]')],
    swap: [['sides: [top]', 'sides: [right, left]']],
    read: (ring) => sidesOf(ring).slice(0, 2),
    becomes: [ALL, ['left', 'right']],
  },
  'order.groups[].whole': {
    before: [FREED, grouped('[{pins: [A0, A1], sides: [top]}]')],
    swap: [['sides: [top]', 'sides: [top], whole: true']],
    read: (ring) => ring.order?.groups.map((g) => g.whole),
    becomes: [true],
  },
  'die.width': {
    swap: [[GIVEN, 'die: {width: 2100}']],
    read: (ring) => [ring.die, ring.dieWish],
    becomes: [null, { width: um(2100), height: null, aspect: null, least: 'side' }],
  },
  'die.height': {
    swap: [[GIVEN, 'die: {width: 2000, height: 1900}']],
    read: (ring) => [ring.die, ring.dieWish],
    becomes: [{ width: um(2000), height: um(1900) }, undefined],
  },
  'die.aspect': {
    swap: [[GIVEN, 'die: {aspect: 1.5}']],
    read: (ring) => ring.dieWish,
    becomes: { width: null, height: null, aspect: 1.5, least: 'side' },
  },
  'die.least': {
    before: [FREED],
    swap: [[GIVEN, 'die: {least: area, aspect: 2}']],
    read: (ring) => ring.dieWish,
    becomes: { width: null, height: null, aspect: 2, least: 'area' },
  },
});

/** Changes that a placed ring shows, where those above are too small to. */
export const ORDER_TELLING: Readonly<
  Record<string, { readonly before: readonly Swap[]; readonly swap: readonly Swap[] }>
> = {
  'order.groups[].whole': {
    before: [FREED, grouped('[{pins: [A0, A1, VDD, VSS], sides: [left, bottom]}]')],
    swap: [['sides: [left, bottom]', 'sides: [left, bottom], whole: true']],
  },
};
