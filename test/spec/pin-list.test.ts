/**
 * Shows that a pin list in CSV, as spreadsheets export it (byte-order mark, semicolons, quotes, decimal commas, blank
 * rows, lines that end either way), makes the same ring as the sides written in YAML, and that its mistakes are told
 * with the line and column of their cell. No source: the CSV texts are written by hand.
 */
import { describe, expect, test } from 'vitest';
import { problemText } from '../../src/problems/problem.ts';
import type { Ring } from '../../src/spec/ring.ts';
import {
  changed,
  footprint,
  landing,
  libraryWith,
  outcomeOf,
  PLAIN_RING,
  problemsOf,
  ringOf,
} from './sample.ts';

const HEAD = PLAIN_RING.slice(0, PLAIN_RING.indexOf('sides:'));
const WITH_CSV = `${HEAD}style: {default: inline, top: staggered}\npins: pins.csv\n`;

const library = libraryWith(
  footprint('macro', 'macro', 200, { landings: [landing(50, [], 'west'), landing(150, [], 'east')] }),
);

const YAML = `${HEAD}style: {default: inline, top: staggered}
sides:
  left:
    - {pin: A0, cell: io_bi, at: 500}
    - {pin: "A1, raw", cell: io_bi, gap: 12.5, shift: -2.5, mirrored: true}
    - {cell: clamp}
  right:
    - {pin: VDDIO, cell: pw_vddio, section: main}
    - {pins: {west: M1, east: M2}, cell: macro, nets: {east: data}}
    - {pin: 'say "hi"', cell: io_bi, net: hello, bondPad: none, tied: {enable: 1}}
  top:
    - {pin: VSSIO, cell: pw_vssio, row: inner}
    - {pin: VDD, cell: pw_vdd, row: outer}
`;

const SEMICOLONS = [
  '\ufeffside;pin;pins;cell;section;net;nets;at;gap;row;shift;mirrored;bondPad;tied',
  'left;A0;;io_bi;;;;500;;;;;;',
  'right;VDDIO;;pw_vddio;main;;;;;;;;;',
  ';;;;;;;;;;;;;',
  'top;VSSIO;;pw_vssio;;;;;;inner;;no;;',
  'left;A1, raw;;io_bi;;;;;12,5;;-2,5;TRUE;;',
  'right;;west=M1 east=M2;macro;;;east=data;;;;;;;',
  'right;"say ""hi""";;io_bi;;hello;;;;;;;none;enable=1',
  'left;;;clamp;;;;;;;;;;',
  'top;VDD;;pw_vdd;;;;;;outer;;;;',
  '',
].join('\r\n');

const COMMAS = `side,cell,pin,pins,at,gap,shift,mirrored,section,net,nets,row,bondPad,tied,,
left,io_bi,A0,,500.0,,,,,,,,,,,
left,io_bi,"A1, raw",,,12.5,-2.5,yes,,,,,,,,
left,clamp,,,,,,,,,,,,,,
right,pw_vddio,VDDIO,,,,,,main,,,,,,,
right,macro,,west=M1 east=M2,,,,,,,east=data,,,,,
right,io_bi,"say ""hi""",,,,,,,hello,,,none,enable=1,,
top,pw_vssio,VSSIO,,,,,,,,,inner,,,,
top,pw_vdd,VDD,,,,,,,,,outer,,,,
`;

/** A ring without the places in its files and without the library, which is the same object. */
const bare = (ring: Ring): unknown =>
  JSON.parse(
    JSON.stringify(ring, (key, value) => (key === 'place' || key === 'library' ? undefined : value)),
  );

describe('a pin list in CSV', () => {
  const yaml = bare(ringOf(YAML, { library }));

  test('with byte-order mark, semicolons, decimal commas and Windows line ends is the ring of the YAML sides', () => {
    expect(bare(ringOf(WITH_CSV, { library, files: { 'pins.csv': SEMICOLONS } }))).toEqual(yaml);
  });

  test('with commas, quotes, another order of columns and empty columns at its end is so too', () => {
    expect(bare(ringOf(WITH_CSV, { library, files: { 'pins.csv': COMMAS } }))).toEqual(yaml);
  });

  test('gives each entry its row as place', () => {
    const ring = ringOf(WITH_CSV, { library, files: { 'pins.csv': SEMICOLONS } });
    expect(ring.sides.left.entries.map((entry) => entry.place)).toEqual([
      { file: 'pins.csv', line: 2, column: 1 },
      { file: 'pins.csv', line: 6, column: 1 },
      { file: 'pins.csv', line: 9, column: 1 },
    ]);
  });

  const told = (csv: string): readonly string[] =>
    problemsOf(WITH_CSV, { library, files: { 'pins.csv': csv } });
  /** Two cells that make the rest of the ring sound. */
  const REST = 'top,VSSIO,pw_vssio,,\nleft,B0,io_bi,,\n';

  test('tells every wrong cell at once', () => {
    expect(
      told(
        `side,pin,cell,at,row\nlefft,A0,io_bi,,\nleft,A1,io_by,,\nleft,A2,io_bi,far,\nleft,A3,io_bi,,middle\nleft,A4,,,\n,A5,io_bi,,\nright,A6,io_bi,2.0001,\nright,A6,io_bi,,\nright,B0,io_bi,,\n${REST}`,
      ),
    ).toEqual([
      'pins.csv:2:1 unknown-word',
      'pins.csv:3:9 unknown-cell',
      'pins.csv:4:15 wrong-kind',
      'pins.csv:5:16 unknown-word',
      'pins.csv:6:1 missing-key',
      'pins.csv:7:1 missing-key',
      'pins.csv:8:16 off-grid',
      'pins.csv:9:1 duplicate-pin',
      'pins.csv:10:1 duplicate-pin',
    ]);
  });

  test('speaks of rows and columns, not of places in a list', () => {
    const outcome = outcomeOf(WITH_CSV, {
      library,
      files: { 'pins.csv': `side,pin,cell,at\nleft,A0,,\nleft,A1,io_bi,far\n` },
    });
    expect(outcome.ok ? [] : outcome.problems.map(problemText)).toEqual([
      "pins.csv:2:1: the row lacks `cell` [missing-key]\n    add `cell:` with a text: the cell's name in the cell file",
      'pins.csv:3:15: `at` must be a number, but is the text "far" [wrong-kind]\n    it is where the cell\'s first edge must stand: the distance along the side from the die corner',
    ]);
  });

  test('names the nearest column', () => {
    const outcome = outcomeOf(WITH_CSV, {
      library,
      files: { 'pins.csv': `side,pin,cell,sectoin,remark\nleft,A0,io_bi,main,x\nleft,A1,io_bi,main,y\n` },
    });
    expect(outcome.ok ? [] : outcome.problems.map(problemText)).toEqual([
      'pins.csv:1:15: the pin list has no column `sectoin` [unknown-column]\n    did you mean `section`?',
      expect.stringContaining(
        'pins.csv:1:23: the pin list has no column `remark` [unknown-column]\n    known here: ',
      ),
    ]);
  });

  test('needs its columns `side` and `cell`, and says so once', () => {
    expect(told('pin,row\nA0,outer\nA1,inner\n')).toEqual([
      'pins.csv:1:1 missing-column',
      'pins.csv:1:1 missing-column',
    ]);
  });

  test('refuses a list of landings that is none', () => {
    expect(told(`side,pins,cell\nleft,west M1,macro\nleft,west=a west=b,macro\n`)).toEqual([
      'pins.csv:2:6 wrong-form',
      'pins.csv:3:6 wrong-form',
    ]);
  });

  test('that is empty, ragged or has an open quote is told with its place', () => {
    expect(told('')).toEqual(['pins.csv:1:1 csv-empty']);
    expect(told('side,pin,cell\nleft,A0,io_bi,7\n')).toEqual(['pins.csv:2:15 csv-ragged']);
    expect(told('side,pin,cell\nleft,"A0,io_bi\n')).toEqual(['pins.csv:2:6 csv-syntax']);
  });

  test('without a name is told in the description', () => {
    expect(problemsOf(changed(WITH_CSV, ['pins: pins.csv', 'pins: ""']))).toEqual(['18:7 out-of-range']);
  });
});
