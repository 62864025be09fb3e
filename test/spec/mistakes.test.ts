/**
 * Shows that what a user gets wrong is told with its line and column, what was expected and the nearest known name, and
 * all at once. Source of the places: counted in the text of PLAIN_RING (sample.ts), whose `sides:` stand on line 17.
 */
import { describe, expect, test } from 'vitest';
import { type Problem, problemText } from '../../src/problems/problem.ts';
import {
  brief,
  changed,
  footprint,
  type Given,
  libraryWith,
  outcomeOf,
  PLAIN_RING,
  problemsOf,
} from './sample.ts';

const A0 = '{pin: A0, cell: io_bi}';
const A1 = '{pin: A1, cell: io_bi}';
const END = 'sides:\n';

/** What is exchanged, then each problem as `line:column code` with a word that message or mend must hold. */
type Mistake = readonly [
  what: string,
  swaps: readonly (readonly [string, string])[],
  told: readonly (readonly [place: string, words: string])[],
  given?: Given,
];

const TWO_NETS = [
  [
    'VSSIO: vssio}\n',
    'VSSIO: vssio}\n    pairs: [{supply: VDDIO, ground: VSSIO}]\n  io:\n    lanes: {VDD: vdd2, VSS: vss, VDDIO: vddio, VSSIO: vssio}\n',
  ],
] as const;

const MISTAKES: readonly Mistake[] = [
  [
    'a misspelt key',
    [['bondPads:', 'bondPad:']],
    [
      ['1:1 missing-key', 'lacks `bondPads`'],
      ['5:1 unknown-key', '`bondPads`'],
    ],
  ],
  [
    'a misspelt key of a cell',
    [[A0, '{pin: A0, cell: io_bi, mirorred: true}']],
    [['19:30 unknown-key', '`mirrored`']],
  ],
  ['a number in quotes', [['pitch: 70', 'pitch: "70"']], [['8:10 wrong-kind', 'without quotes']]],
  ['a negative length', [['toCell: 5', 'toCell: -5']], [['10:11 out-of-range', 'at least 0']]],
  ['a die of two words', [['die: {width: 2000, height: 1800}', 'die: fits']], [['3:6 wrong-kind', '`fit`']]],
  ['an unknown style', [[END, `style: staggerd\n${END}`]], [['17:8 wrong-kind', 'staggered']]],
  ['a pin that is a number', [['pin: A0', 'pin: 7']], [['19:13 wrong-kind', 'in quotes']]],
  ['an unknown cell', [['A0, cell: io_bi', 'A0, cell: io_b']], [['19:23 unknown-cell', '`io_bi`']]],
  ['a filler in the list', [['{cell: clamp}', '{cell: fill10}']], [['21:14 set-by-itself', '`gap`']]],
  ['a corner in the list', [['{cell: clamp}', '{cell: corner}']], [['21:14 set-by-itself', 'corners']]],
  [
    'a pin on a cell without landing',
    [['{cell: clamp}', '{cell: clamp, pin: X}']],
    [['21:26 useless-key', 'no landing']],
  ],
  ['a cell without its pin', [[A0, '{cell: io_bi}']], [['19:7 missing-key', 'add `pin:`']]],
  [
    'one pin for two landings',
    [[A0, '{pin: VDD, cell: wide_vdd}']],
    [['19:13 missing-key', 'west: …, east: …']],
  ],
  [
    'an unknown landing',
    [[A0, '{pins: {west: VDD, esat: VDD}, cell: wide_vdd}']],
    [
      ['19:14 missing-key', '`east`'],
      ['19:32 unknown-landing', '`east`'],
    ],
  ],
  ['a pin twice', [['pin: A1', 'pin: A0']], [['20:7 duplicate-pin', 'ring.yaml:19:7']]],
  [
    'a supply pin on two nets',
    [
      ...TWO_NETS,
      [A0, '{pin: VDD, cell: pw_vdd, section: io}'],
      ...[
        'A1, cell: io_bi',
        '{cell: clamp',
        'VSS, cell: pw_vss',
        'VDDIO, cell: pw_vddio',
        'VSSIO, cell: pw_vssio',
      ].map((cell): [string, string] => [`${cell}}`, `${cell}, section: main}`]),
      [
        '  bottom:\n    - {pin: VDD, cell: pw_vdd}',
        '  bottom:\n    - {pin: VDD, cell: pw_vdd, section: main}',
      ],
    ],
    [['26:7 duplicate-pin', '`vdd2`']],
  ],
  [
    'an unknown section',
    [[A0, '{pin: A0, cell: io_bi, section: mian}']],
    [['19:39 unknown-section', '`main`']],
  ],
  ['an unknown lane', [['VSS: vss,', 'VSS: vss, VDDX: x,']], [['14:33 unknown-lane', '`VDD`']]],
  ['a lane without a net', [['A0, cell: io_bi', 'A0, cell: strange']], [['14:5 lane-without-net', '`VREF`']]],
  ['an unknown lane in a pair', [['supply: VDDIO', 'supply: VDDOI']], [['16:18 unknown-lane', '`VDDIO`']]],
  ['a pair on one net', [['VSSIO: vssio', 'VSSIO: vddio']], [['16:9 pair-shorted', 'one net']]],
  [
    'a net against its lane',
    [['{pin: VDD, cell: pw_vdd}', '{pin: VDD, cell: pw_vdd, net: vss}']],
    [['23:37 wrong-net', '`vdd`']],
  ],
  [
    'a signal that bears a supply net',
    [['pin: A0', 'pin: vdd']],
    [['19:13 signal-on-supply', 'supply cell']],
  ],
  [
    'an unknown kind of pad',
    [[A0, '{pin: A0, cell: io_bi, bondPad: plan}']],
    [['19:39 unknown-kind', '`plain`']],
  ],
  [
    'an unknown input',
    [[A0, '{pin: A0, cell: io_bi, tied: {enabel: 1}}']],
    [['19:45 unknown-input', '`enable`']],
  ],
  [
    'an output held',
    [[A0, '{pin: A0, cell: io_bi, tied: {value: 1}}']],
    [['19:44 unknown-input', '`enable`']],
  ],
  [
    'a place off the grid',
    [[A0, '{pin: A0, cell: io_bi, at: 500.003}']],
    [['19:34 off-grid', '500 and 500.005']],
  ],
  ['a die off the grid', [['width: 2000', 'width: 2000.0071']], [['3:14 off-grid', '2000.005 and 2000.01']]],
  [
    'a pad and a stem half a step off',
    [[A0, '{pin: A0, cell: io_odd}']],
    [
      ['11:16 off-grid', '30.0025'],
      ['19:7 off-grid', 'one step of 0.005 wider'],
    ],
  ],
  ['an opening half a step off', [['along: 50', 'along: 50.005']], [['7:51 off-grid', 'times two']]],
  ['an opening beyond its metal', [['along: 50', 'along: 61']], [['7:51 opening-beyond-metal', '60']]],
  ['a cell off the grid', [['{cell: clamp}', '{cell: off}']], [['2:8 off-grid', 'width 40.0025']]],
  [
    'a grid of an odd picometre',
    [['ring: sample', 'ring: sample\ngrid: 0.000001']],
    [['2:7 grid-too-fine', 'five decimals']],
  ],
  ['too many decimals', [['toCell: 5', 'toCell: 5.00000001']], [['10:11 too-fine', 'six decimals']]],
  ['a filler that is none', [[END, `fillers: [fill10, fil1]\n${END}`]], [['17:19 unknown-cell', '`fill1`']]],
  [
    'a break that is a filler',
    [[END, `breaks: [fill10]\n${END}`]],
    [
      ['17:1 useless-key', 'only section'],
      ['17:10 unknown-cell', 'its role is filler'],
    ],
  ],
  ['a filler twice', [[END, `fillers: [fill1, fill1]\n${END}`]], [['17:18 duplicate-name', 'twice']]],
  ['an unknown corner', [[END, `corners: {cell: conrer}\n${END}`]], [['17:17 unknown-cell', '`corner`']]],
  [
    'several corners and none named',
    [],
    [['2:8 which-corner', '`round`']],
    { library: libraryWith(footprint('round', 'corner', 190)) },
  ],
  [
    'an unknown rule',
    [[END, `severities: {pad-pich: note}\n${END}`]],
    [['17:14 unknown-rule', '`pad-pitch`']],
  ],
  [
    'an error lowered for everything at once',
    [[END, `severities: {pad-pitch: warning, break-needless: note}\n${END}`]],
    [['17:14 severity-lowered', 'waivers: [{rule: pad-pitch, items: […], reason: …}]']],
  ],
  [
    'a severity that a rule has of itself',
    [[END, `severities: {break-needless: warning}\n${END}`]],
    [['17:14 useless-key', 'leave it out']],
  ],
  [
    'a waiver of an unknown rule',
    [[END, `waivers: [{rule: needles-break, items: [x], reason: y}]\n${END}`]],
    [['17:12 unknown-rule', '`break-needless`']],
  ],
  [
    'a waiver without a reason',
    [[END, `waivers: [{rule: pad-pitch, items: [x], reason: " "}]\n${END}`]],
    [['17:49 out-of-range', 'empty']],
  ],
  [
    'an unknown pin in a rule',
    [[END, `neighbours: [{together: [A0, A3]}]\n${END}`]],
    [['17:30 unknown-pin', '`A0`']],
  ],
  [
    'an unknown net in a rule',
    [[END, `neighbours: [{besideGround: [vdio]}]\n${END}`]],
    [['17:30 unknown-net', '`vddio`']],
  ],
  [
    'an unknown section in a rule',
    [[END, `neighbours: [{signalsBetweenGrounds: 8, sections: [mian]}]\n${END}`]],
    [['17:52 unknown-section', '`main`']],
  ],
  [
    'a rule of two kinds',
    [[END, `neighbours: [{together: [A0, A1], besideGround: [vddio]}]\n${END}`]],
    [['17:14 either-or', '2 rules']],
  ],
  [
    'a rule without its distance',
    [[END, `neighbours: [{apart: [A0], from: [A1]}]\n${END}`]],
    [['17:14 missing-key', '`distance`']],
  ],
  [
    'a pin apart from itself',
    [[END, `neighbours: [{apart: [A0], from: [A0], distance: 9}]\n${END}`]],
    [['17:35 apart-from-itself', 'A0']],
  ],
  [
    'a distance beside `together`',
    [[END, `neighbours: [{together: [A0, A1], distance: 9}]\n${END}`]],
    [['17:35 useless-key', '`apart`']],
  ],
  [
    'a pin without pad in a rule',
    [
      [END, `neighbours: [{together: [A0, A1]}]\n${END}`],
      [A1, '{pin: A1, cell: io_bi, bondPad: none}'],
    ],
    [['17:30 pin-without-pad', 'A1']],
  ],
  [
    'no stems where pads stand off',
    [['stems: {width: 12, layers: [M5]}\n', '']],
    [['1:1 missing-key', '`stems']],
  ],
  [
    'no kinds where there are pads',
    [
      ['  kinds:\n    plain: {along: 60, deep: 70, opening: {along: 50, deep: 60}}\n', ''],
      ['stems: {width: 12, layers: [M5]}\n', ''],
      ['  toCell: 5\n', ''],
    ],
    [['5:1 missing-key', '`kinds`']],
  ],
  ['a kind named none', [['plain:', 'none:']], [['7:5 reserved-name', 'none']]],
  ['a kind that begins with a digit', [['plain:', '2:']], [['7:5 wrong-form', 'letter']]],
  [
    'a section without cells',
    [
      TWO_NETS[0],
      ...[
        A0,
        A1,
        '{cell: clamp}',
        '{pin: VDD, cell: pw_vdd}',
        '{pin: VSS, cell: pw_vss}',
        '{pin: VDDIO, cell: pw_vddio}',
        '{pin: VSSIO, cell: pw_vssio}',
      ].map((cell): [string, string] => [cell, cell.replace('}', ', section: main}')]),
    ],
    [['16:3 section-without-cells', '`io`']],
  ],
  [
    'a missing section',
    [
      TWO_NETS[0],
      ...[
        A1,
        '{cell: clamp}',
        '{pin: VDD, cell: pw_vdd}',
        '{pin: VSS, cell: pw_vss}',
        '{pin: VDDIO, cell: pw_vddio}',
      ].map((cell): [string, string] => [cell, cell.replace('}', ', section: main}')]),
      ['{pin: VSSIO, cell: pw_vssio}', '{pin: VSSIO, cell: pw_vssio, section: io}'],
    ],
    [['22:7 missing-key', '`main`, `io`']],
  ],
  ['sides and pins', [[END, `pins: pins.csv\n${END}`]], [['17:1 either-or', '`sides`']]],
  [
    'neither sides nor pins',
    [[PLAIN_RING.slice(PLAIN_RING.indexOf(END)), '']],
    [['1:1 missing-key', '`pins:`']],
  ],
  [
    'a pin list that is not there',
    [[PLAIN_RING.slice(PLAIN_RING.indexOf(END)), 'pins: pins.csv\n']],
    [['17:7 no-such-file', 'pins.csv']],
  ],
  [
    'no bond pad at all',
    [
      [PLAIN_RING.slice(PLAIN_RING.indexOf(END)), 'sides:\n  left: [{cell: clamp}]\n'],
      ['stems: {width: 12, layers: [M5]}\n', ''],
      ['  toCell: 5\n', ''],
      ['  kinds:\n    plain: {along: 60, deep: 70, opening: {along: 50, deep: 60}}\n', ''],
    ],
    [['13:1 no-bond-pad', 'sides']],
  ],
  [
    'a pad in the cell, inline',
    [['A0, cell: io_bi', 'A0, cell: io_full']],
    [['19:23 pad-in-cell', '`in-cell`']],
  ],
  [
    'a pad outside, in-cell',
    [
      [END, `style: {left: in-cell}\n${END}`],
      [A1, '{pin: A1, cell: io_full}'],
    ],
    [['20:23 pad-not-in-cell', '`bondPad: none`']],
  ],
];

describe('mistakes are told with their place', () => {
  for (const [what, swaps, told, given] of MISTAKES)
    test(what, () => {
      const text = changed(PLAIN_RING, ...swaps);
      const outcome = outcomeOf(text, given);
      const problems: readonly Problem[] = outcome.ok ? [] : outcome.problems;
      expect(problems.map(brief)).toEqual(told.map(([place]) => place));
      told.forEach(([, words], i) => {
        const problem = problems[i];
        expect(problem && problemText(problem)).toContain(words);
      });
    });
});

describe('all at once', () => {
  test('a wrong key, a wrong value, an unknown cell, an unknown section and a pin twice, in reading order', () => {
    const text = changed(
      PLAIN_RING,
      ['ring: sample', 'ring: sample\ncolour: red'],
      ['pitch: 70', 'pitch: wide'],
      [A0, '{pin: A0, cell: io_bii}'],
      [A1, '{pin: A1, cell: io_bi, gapp: 3}'],
      ['pin: VSS,', 'pin: 12,'],
    );
    expect(problemsOf(text)).toEqual([
      '2:1 unknown-key',
      '9:10 wrong-kind',
      '20:23 unknown-cell',
      '21:30 unknown-key',
      '25:13 wrong-kind',
    ]);
  });

  test('where the keys are sound, everything that they mean is looked at in one go', () => {
    const text = changed(
      PLAIN_RING,
      ['width: 2000', 'width: 2000.001'],
      ['VSS: vss,', 'VSX: vss,'],
      [A0, '{pin: A1, cell: io_bi, section: mian}'],
      ['{pin: VDD, cell: pw_vdd}', '{pin: VDD, cell: pw_vdd, bondPad: big}'],
      [END, `numbering: {side: left}\nseverities: {x: note}\n${END}`],
    );
    expect(problemsOf(text)).toEqual([
      '3:14 off-grid',
      '14:5 lane-without-net',
      '14:23 unknown-lane',
      '18:14 unknown-rule',
      '21:39 unknown-section',
      '22:7 duplicate-pin',
      '25:41 unknown-kind',
    ]);
  });

  test('a broken setting hides nothing that does not depend on it', () => {
    const text = changed(
      PLAIN_RING,
      ['pitch: 70', 'pich: 70'],
      ['VSS: vss,', 'VSX: vss,'],
      [A0, '{pin: A1, cell: io_bi, section: mian, bondPad: plain}'],
    );
    expect(problemsOf(text)).toEqual([
      '5:1 missing-key',
      '8:3 unknown-key',
      '14:5 lane-without-net',
      '14:23 unknown-lane',
      '19:39 unknown-section',
      '20:7 duplicate-pin',
    ]);
  });

  test.each([
    ['grid: fine', 'at: 0.0025'],
    ['style: inlin', 'row: outer'],
    ['style: inlin', 'shift: 5, bondPad: none'],
  ])('with %s, nothing is told against %s', (setting, more) => {
    const text = changed(PLAIN_RING, [A0, `{pin: A0, cell: io_bi, ${more}}`], [END, `${setting}\n${END}`]);
    expect(problemsOf(text)).toEqual([setting.startsWith('grid') ? '17:7 wrong-kind' : '17:8 wrong-kind']);
  });

  test('what could not be read does not make other things look wrong', () => {
    // The entry of pin A1 is unreadable, so the rule that names it must not be told that there is no such pin.
    const text = changed(
      PLAIN_RING,
      [A1, '{pin: A1, cell: io_bi, gap: far}'],
      [END, `neighbours: [{together: [A0, A1]}]\n${END}`],
    );
    expect(problemsOf(text)).toEqual(['21:35 wrong-kind']);
  });
});

describe('suspicions are told without refusing the ring', () => {
  const notes = (...swaps: readonly (readonly [string, string])[]): readonly string[] => {
    const outcome = outcomeOf(changed(PLAIN_RING, ...swaps));
    return outcome.ok ? outcome.notes.map(problemText) : ['refused'];
  };

  test('the plain ring gives rise to none', () => expect(notes()).toEqual([]));

  test('a die in millimetres', () => {
    expect(notes(['{width: 2000, height: 1800}', '{width: 3, height: 2.8}'])).toEqual([
      'ring.yaml:3:14: a die width of 3 micrometres is unusually small [doubtful-length]\n    lengths are in micrometres; if 3 was meant in millimetres, write 3000',
      'ring.yaml:3:25: a die height of 2.8 micrometres is unusually small [doubtful-length]\n    lengths are in micrometres; if 2.8 was meant in millimetres, write 2800',
    ]);
  });

  test('a core in nanometres', () => {
    expect(notes([END, `core: {width: 900000, height: 800}\n${END}`])).toEqual([
      'ring.yaml:17:15: a core width of 900000 micrometres is unusually large [doubtful-length]\n    lengths are in micrometres; if 900000 was meant in nanometres, write 900',
    ]);
  });

  test('a pitch in millimetres', () => {
    expect(notes(['pitch: 70', 'pitch: 0.07'])[0]).toContain('if 0.07 was meant in millimetres, write 70');
  });

  test('a length of more than a metre is refused, and says so', () => {
    const outcome = outcomeOf(changed(PLAIN_RING, ['width: 2000', 'width: 3.0e6']));
    expect(outcome.ok ? '' : outcome.problems.map(problemText).join()).toContain('which is a metre');
  });
});
