/**
 * Shows that a key which can change nothing in the ring at hand is refused, with the reason, and that the same key is
 * accepted where it does something (keys.test.ts holds the other half). No source: it is a rule of this program.
 */
import { describe, expect, test } from 'vitest';
import { problemText } from '../../src/problems/problem.ts';
import { changed, type Given, outcomeOf, PLAIN_RING } from './sample.ts';

type Swap = readonly [string, string];

const A0 = '{pin: A0, cell: io_bi}';
const end = (text: string): Swap => ['sides:\n', `${text}\nsides:\n`];
const STAGGERED = end('style: staggered');
const SIDES = PLAIN_RING.slice(PLAIN_RING.indexOf('sides:'));
const IN_CELL: Swap = [SIDES, 'style: in-cell\nsides:\n  left:\n    - {pin: A0, cell: io_full}\n'];
const NO_STEMS: Swap = ['stems: {width: 12, layers: [M5]}\n', ''];
const NO_GAP: Swap = ['  toCell: 5\n', ''];
const NO_KINDS: Swap = ['  kinds:\n    plain: {along: 60, deep: 70, opening: {along: 50, deep: 60}}\n', ''];

const CASES: readonly (readonly [
  what: string,
  swaps: readonly Swap[],
  told: readonly string[],
  given?: Given,
])[] = [
  [
    'rows.first on one row',
    [end('rows: {first: inner}')],
    ['`rows.first` can change nothing: no side has two rows'],
  ],
  ['rows.gap on one row', [end('rows: {gap: 12}')], ['`rows.gap` can change nothing: no side has two rows']],
  [
    'rows.inset outside',
    [end('rows: {inset: 12}')],
    ['`rows.inset` can change nothing: no side is over circuit'],
  ],
  [
    'rows.overCircuit outside',
    [end('rows: {overCircuit: 2}')],
    ['`rows.overCircuit` can change nothing: no side is over circuit'],
  ],
  ['rows without a key', [end('rows: {}')], ['`rows` can change nothing: it is empty']],
  [
    'rows.first where every pad names its row',
    [
      end('style: {left: staggered}\nrows: {first: inner}'),
      [A0, '{pin: A0, cell: io_bi, row: outer}'],
      ['{pin: A1, cell: io_bi}', '{pin: A1, cell: io_bi, row: inner}'],
    ],
    ['`rows.first` can change nothing: every pad of the sides with two rows names its row'],
  ],
  ['row on one row', [[A0, '{pin: A0, cell: io_bi, row: outer}']], ['the left side has a single row']],
  [
    'row without a pad',
    [STAGGERED, [A0, '{pin: A0, cell: io_bi, row: outer, bondPad: none}']],
    ['the cell gets no bond pad, so `row` says nothing'],
  ],
  [
    'shift without a pad',
    [[A0, '{pin: A0, cell: io_bi, shift: 5, bondPad: none}']],
    ['`shift` moves nothing'],
  ],
  [
    'bondPad without a landing',
    [['{cell: clamp}', '{cell: clamp, bondPad: plain}']],
    ['`bondPad` says nothing'],
  ],
  ['net without a landing', [['{cell: clamp}', '{cell: clamp, net: x}']], ['it has no net']],
  [
    'stems, toCell and kinds where the cells contain their pads',
    [IN_CELL],
    [
      '`bondPads.kinds.plain` can change nothing: no pin has such a bond pad',
      '`bondPads.toCell` can change nothing: no bond pad stands outside the cells',
      '`stems` can change nothing: no bond pad stands off its cell',
    ],
  ],
  [
    'shift and bondPad of a pad in its cell',
    [IN_CELL, NO_STEMS, NO_GAP, NO_KINDS, ['io_full}', 'io_full, shift: 5, bondPad: none}']],
    [
      'the cell contains its bond pad, so `shift` cannot move it',
      'the cell contains its bond pad, so `bondPad` says nothing',
    ],
  ],
  ['stems where the pads touch their cells', [NO_GAP], ['`stems` can change nothing']],
  [
    'a kind that no pin has',
    [['  pitch: 70', '    big: {along: 90, deep: 70, opening: {along: 50, deep: 60}}\n  pitch: 70']],
    ['`bondPads.kinds.big` can change nothing: no pin has such a bond pad'],
  ],
  [
    'slack of an empty side',
    [end('slack: {top: after}'), ['  top:\n    - {pin: VSSIO', '    - {pin: VSSIO']],
    ['the top side is empty'],
  ],
  [
    'a default beside all sides',
    [end('style: {default: inline, left: staggered, bottom: inline, right: inline, top: inline}')],
    ['`style.default` can change nothing: every side is named'],
  ],
  [
    'numbering from a side without pads',
    [end('numbering: {side: top}'), ['  top:\n    - {pin: VSSIO', '    - {pin: VSSIO']],
    ['the top side has no bond pad'],
  ],
  ['breaks in one section', [end('breaks: [brk5]')], ['`main` is the only section']],
  [
    'a section on a break cell',
    [['{cell: clamp}', '{cell: brk5, section: main}']],
    ['it stands between sections, in none'],
  ],
  [
    'a corner step that is no wider',
    [end('corners: {pitches: [{pads: 3, pitch: 70}]}')],
    ['not wider than `bondPads.pitch`'],
  ],
  [
    'a corner step inside another',
    [end('corners: {pitches: [{pads: 3, pitch: 90}, {pads: 2, pitch: 90}]}')],
    ['another one asks as much of more pads'],
  ],
];

describe('a key that can change nothing is refused', () => {
  for (const [what, swaps, told, given] of CASES)
    test(what, () => {
      const outcome = outcomeOf(changed(PLAIN_RING, ...swaps), given);
      const problems = outcome.ok ? [] : outcome.problems;
      expect(problems.map((problem) => problem.code)).toEqual(told.map(() => 'useless-key'));
      told.forEach((words, i) => {
        const problem = problems[i];
        expect(problem && problemText(problem)).toContain(words);
      });
    });

  test('a corner step that asks more of fewer pads stays', () => {
    const outcome = outcomeOf(
      changed(PLAIN_RING, end('corners: {pitches: [{pads: 4, pitch: 80}, {pads: 2, pitch: 90}]}')),
    );
    expect(outcome.ok && outcome.value.corners.pitches.length).toBe(2);
  });

  test('stems stay where one pad is shorter than its neighbours, though the gap is none', () => {
    const outcome = outcomeOf(
      changed(
        PLAIN_RING,
        NO_GAP,
        ['  pitch: 70', '    short: {along: 60, deep: 50, opening: {along: 50, deep: 40}}\n  pitch: 70'],
        [A0, '{pin: A0, cell: io_bi, bondPad: short}'],
      ),
    );
    expect(outcome.ok).toBe(true);
  });
});
