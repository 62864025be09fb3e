/**
 * What is wrong in a cell file or in its LEF is told all at once, each with its place, what was expected and how to mend it.
 * Source of the values: worked by hand; the tie and the roles are those of the open libraries' notes.
 */
import { describe, expect, it } from 'vitest';
import type { Problem } from '../../src/problems/problem.ts';
import { type Files, macro, readFiles } from './small.ts';

/** Each problem as what stands at its place, up to a blank or bracket, its code and its message. */
function told(files: Files): string[] {
  const read = readFiles(files);
  return (read.ok ? [] : read.problems).map(({ place, code, message }) => {
    const line = (files[place?.file ?? ''] ?? '').split('\n')[(place?.line ?? 0) - 1] ?? '';
    const word = /^[^\s,:[\]{}]*/.exec(line.slice((place?.column ?? 1) - 1))?.[0];
    return `${place?.line} ${word} | ${code} | ${message}`;
  });
}
const cells = (body: string): Files => ({
  'cells.yaml': `name: l
lanes:
  VDD: {strips: {M4: [[50, 60]]}}
  VSS: {strips: {M4: [[70, 80]]}}
cells:
${body}`,
});
const hand = 'width: 40, height: 100';

describe('errors of a cell file', () => {
  it('names unknown keys, words, lanes and cells', () => {
    expect(
      told(
        cells(`  a: {role: suply, ${hand}}
  b: {role: clamp, ${hand}, clamp: []}
  c: {role: filler, ${hand}, heigth: 3}
`),
      ),
    ).toEqual([
      '6 suply | unknown-word | `cells.a.role` must be one of `signal`, `analog`, `supply`, `clamp`, `control`, `macro`, `break`, `filler`, `corner`, but is the text "suply"',
      '7 clamp | unknown-key | `cells.b` has no key `clamp`',
      '8 heigth | unknown-key | `cells.c` has no key `heigth`',
    ]);
    const files = cells(`  a:
    role: supply
    width: 40
    height: 100
    landings: [{name: p, at: 20, feeds: [VDDD]}]
    ties: [[VDD, VSSS]]
    clamps: [{supply: VDD, ground: VDD}]
    needs: [bb, bc]
    onVertical: aa
    cuts: [V]
    straps: [{lane: X, layer: M4, at: 1, width: 1, t: 1}]
  b: {role: filler, width: 40, height: 100}
  bc: {role: filler, width: 4, height: 100}
`);
    expect(told(files).sort()).toEqual([
      '10 VDDD | unknown-lane | `a`: there is no lane `VDDD`',
      '11 VSSS | unknown-lane | `a`: there is no lane `VSSS`',
      '12 ground | clamp-to-itself | `a`: a clamp needs two lanes, but has `VDD` twice',
      '13 bb | unknown-cell | `a`: the library has no cell `bb`',
      '13 bc | cell-of-no-section | `a` needs `bc` in its section, but a filler cell belongs to none',
      '14 onVertical | unknown-cell | `a`: the library has no cell `aa`',
      '15 V | unknown-lane | `a`: there is no lane `V`',
      '16 lane | unknown-lane | `a`: there is no lane `X`',
    ]);
    const read = readFiles(files);
    const mends = read.ok ? [] : read.problems.map((p) => p.mend);
    for (const mend of ['did you mean `VDD`?', 'did you mean `VSS`?', 'did you mean `b`?'])
      expect(mends).toContain(mend);
  });

  it('refuses keys that say nothing for a role, or beside LEF, or without it', () => {
    const read = told({
      'a.lef': macro('x', 'PAD SPACER', [10, 100], [{ pin: 'VDD', rects: [[0, 50, 10, 60]] }]),
      'cells.yaml': `name: l
lef: [a.lef]
cells:
  x: {width: 5, landings: [{name: p, at: 1}], signals: [{name: a, direction: input}]}
  a: {role: control, ${hand}, standsAlone: false, follows: left, diodes: [VDD], padPin: p, joins: [VDD]}
  c: {role: corner, ${hand}, setback: 1, outward: top, onVertical: c}
`,
    });
    expect(
      read.filter((line) => line.includes('needless-key')).map((line) => line.slice(0, line.indexOf(' |'))),
    ).toEqual([
      '4 width',
      '4 landings',
      '4 signals',
      '5 follows',
      '5 padPin',
      '5 joins',
      '5 diodes',
      '5 standsAlone',
      '6 outward',
      '6 setback',
      '6 onVertical',
    ]);
    expect(read[0]).toBe('4 width | needless-key | `width` says nothing for `x`, which LEF describes');
  });

  it('refuses strips that overlap, lie outside or are not there, and diodes where nothing is parted', () => {
    expect(
      told(
        cells(`  a: {role: filler, ${hand}, lanes: {VDD: {M4: [[65, 75]]}}}
  b: {role: filler, ${hand}, lanes: {VDD: {M5: [[30, 20], [95, 101]]}}}
  c: {role: filler, ${hand}, cuts: [{layer: M9}]}
  d: {role: break, ${hand}, cuts: [VSS], diodes: [VSS, VDD]}
  e: {role: filler, ${hand}, lanes: {VD: {M4: [[1, 2]]}}, lacks: [V, VDD]}
  f: {role: filler, width: 1, height: 75}
  g: {role: filler, width: 2, height: 75}
`),
      ).sort(),
    ).toEqual([
      '10 V | unknown-lane | `e`: there is no lane `V`',
      '10 VD | unknown-lane | `e`: there is no lane `VD`',
      '4 M4 | strip-extent | a strip of `VSS` on M4 does not lie inside the cell, from less to more',
      '4 M4 | strips-overlap | a strip of `VSS` on M4 overlaps one of `VDD`',
      '7 M5 | strip-extent | `b`: a strip of `VDD` on M5 does not lie inside the cell, from less to more',
      '8  | no-such-strip | `c` has no strip that `cuts` names here',
      '9 VDD | lane-not-parted | `d` has diodes across lane `VDD`, but lets it through',
    ]);
    expect(told(cells(`  c: {role: filler, ${hand}, cuts: [{}]}\n`))).toEqual([
      '6  | not-allowed | `cells.c.cuts[0]` must name a `lane`, a `layer` or both',
    ]);
    expect(
      told(
        cells(
          `  c: {role: filler, ${hand}, lanes: {VDD: {M4: [{from: 1, to: 2, edges: end, carry: through}]}}}\n`,
        ),
      ),
    ).toEqual([
      '6 through | not-allowed | `cells.c.lanes.VDD.M4[0].carry` cannot be `through` where the strip reaches only one edge',
    ]);
  });

  it('refuses landings that do not fit, and asks for what a cell without LEF needs', () => {
    expect(
      told(
        cells(`  a: {role: signal, ${hand}, landings: [{name: p, at: 41}, {name: p, at: 1}]}
  b: {role: signal, ${hand}}
  c: {${hand}}
  d: {role: filler, width: 3}
  e: {role: signal, ${hand}, landings: [{name: p, at: 1, inside: {t: 5}}]}
  f:
    role: signal
    width: 40
    height: 100
    landings: [{name: p, at: 1, inside: {t: 9, along: 5, deep: 5, opening: {along: 6, deep: 5}}}]
  g: {role: macro, ${hand}, onVertical: b}
`),
      ).sort(),
    ).toEqual([
      '10 inside | unknown-pad-size | `e` contains its bond pad, but nothing says how large that is',
      '15 inside | opening-beyond-metal | `f`: the opening is larger than its pad',
      '16 onVertical | no-stand-in | `b` cannot stand for `g`: it has another role or number of landings',
      '6 at | outside-cell | `a`: the landing `p` lies outside the cell',
      '6 name | duplicate-name | `a` has two landings named `p`',
      '7 b | no-landing | nothing tells where a bond pad joins `b`, whose role is signal: the cell file lists none',
      '8 c | missing-key | `c` lacks its `role`',
      '9 d | unknown-size | the size of `d` is not known: its `width` and `height` are needed',
    ]);
  });
});

describe('errors between a cell file and its LEF', () => {
  const lane = (pin: string, from: number, to: number, width: number) => ({
    pin,
    rects: [[0, from, width, to]],
  });
  const both = (width: number) => [lane('VDD', 50, 60, width), lane('DVDD', 70, 80, width)];
  const fillers =
    macro('f1', 'PAD SPACER', [10, 100], both(10)) + macro('f2', 'PAD SPACER', [5, 100], both(5));
  const files = (lef: string, more = ''): Files => ({
    'cells.yaml': `name: l\nlef: [a.lef]\n${more}`,
    'a.lef': lef,
  });
  const of = (lef: string, more = ''): string[] => told(files(lef, more));
  const problems = (all: Files): readonly Problem[] => {
    const read = readFiles(all);
    return read.ok ? [] : read.problems;
  };

  it('says which lanes a cell ties when it has the pin of one on strips of the other', () => {
    const tying = macro(
      't',
      'PAD POWER',
      [40, 100],
      [
        {
          pin: 'DVDD',
          rects: [
            [0, 50, 40, 60],
            [0, 70, 40, 80],
            [10, 0, 30, 3],
          ],
        },
      ],
    );
    expect(problems(files(fillers + tying))).toMatchObject([
      {
        code: 'unstated-tie',
        message:
          '`t` has its pin `DVDD` on strips of M4 that are lane `VDD` in the other cells: it ties the lanes `VDD` and `DVDD`',
        mend: 'if it is meant to, state `ties: [[VDD, DVDD]]` for it in the cell file',
        place: { file: 'a.lef' },
      },
    ]);
    expect(of(fillers + tying, 'cells: {t: {ties: [[VDD, DVDD]]}}')).toEqual([]);
    // Fillers decide, however many other cells say otherwise.
    const many = ['t', 'u', 'v'].map((name) => tying.replaceAll(/(MACRO|END) t$/gm, `$1 ${name}`)).join('');
    expect(of(many + fillers).map((line) => line.split(' ')[1])).toEqual(['t', 'u', 'v']);
  });

  it('asks for roles that a class leaves open, for landings and for pad sizes', () => {
    const pad = (rect: number[]) => ({ pin: 'pad', use: 'SIGNAL', rects: [rect] });
    const text =
      fillers +
      macro('brk', 'PAD', [2, 100], [lane('VDD', 50, 60, 2)]) +
      macro(
        'cor',
        'PAD SPACER',
        [100, 100],
        [
          {
            pin: 'VDD',
            rects: [
              [98, 50, 100, 60],
              [50, 98, 60, 100],
            ],
          },
        ],
      ) +
      macro('s', 'PAD INPUT', [40, 100], both(40)) +
      macro('p', 'PAD POWER', [40, 100], both(40)) +
      macro('q', 'PAD INPUT', [40, 100], [...both(40), pad([5, 10, 35, 30])]) +
      macro('r', 'PAD INPUT', [40, 100], [...both(40), pad([5, 97, 35, 100])]);
    expect(of(text).map((line) => line.slice(line.indexOf(' ') + 1))).toEqual([
      'brk | unknown-role | the LEF class `PAD` does not tell what `brk` is',
      'cor | unknown-role | the LEF class `PAD SPACER` fits fillers and corner cells; the strips of `cor` reach two neighbouring edges',
      's | no-landing | nothing tells where a bond pad joins `s`, whose role is signal: LEF draws no pad pin that reaches its outward edge',
      'p | no-landing | nothing tells where a bond pad joins `p`, whose role is supply: LEF draws no supply pin that reaches its outward edge',
      'q | unknown-pad-size | `q` contains its bond pad, but nothing says how large that is',
      'r | pad-toward-core | the pad pin `pad` of `r` reaches the edge toward the core',
    ]);
  });

  it('compares strips with role and outward edge', () => {
    const corner = macro(
      'c',
      'PAD',
      [100, 100],
      [
        {
          pin: 'VDD',
          rects: [
            [98, 50, 100, 60],
            [50, 98, 60, 100],
          ],
        },
      ],
    );
    const more = (body: string): string => `drawn: {stubs: joined}\ncells:\n${body}`;
    expect(
      of(fillers + corner, more('  c: {role: filler}\n  f1: {role: corner}\n  f2: {outward: left}\n')),
    ).toEqual([
      '6 role | strips-disagree | the strips of `f1` reach two opposite edges, so it is no corner cell',
      '7 outward | strips-disagree | the strips of `f2` reach its left and right edges, so its left edge cannot face outward',
      "5 role | strips-disagree | the strips of `c` reach two neighbouring edges, as a corner cell's do",
    ]);
    expect(of(fillers + corner, more('  c: {role: corner, follows: top}\n'))).toEqual([
      '5 follows | strips-disagree | the strips of `c` show a corner that follows the left side',
    ]);
  });

  it('refuses LEF files that are not there, wrong, or give a macro twice, and names that they do not have', () => {
    expect(
      told({
        'cells.yaml': 'name: l\nlef: [a.lef, gone.lef, b.lef, c.lef]\n',
        'a.lef': fillers,
        'b.lef': fillers,
        'c.lef': 'MACRO x',
      }),
    ).toEqual([
      '2 gone.lef | no-file | `gone.lef`: there is no file gone.lef',
      '1 f1 | duplicate-macro | the macro `f1` is already given in a.lef, line 1',
      '22 f2 | duplicate-macro | the macro `f2` is already given in a.lef, line 22',
      '1  | lef-syntax | the macro `x` has no `END`',
    ]);
    expect(
      of(fillers, 'leaveOut: [f1, g]\ncells:\n  f1: {standsAlone: false}\n  F2: {standsAlone: false}\n'),
    ).toEqual([
      '3 f1 | left-out-and-described | `f1` is described under `cells` and left out as well',
      '3 g | unknown-macro | the LEF files draw no `g`',
      '6 F2 | unknown-macro | the LEF files draw no `F2`',
      '6 F2 | missing-key | `F2` lacks its `role`',
    ]);
    expect(of(fillers, 'lanes: {VDD: {}, VCC: {}}\n')).toEqual([
      '3 VCC | empty-lane | the lane `VCC` has no strip in any cell',
    ]);
    expect(of(fillers, 'cells: {f1: {role: clamp, padPin: V}}\n')).toEqual([
      '3 padPin | unknown-pin | LEF gives `f1` no pin `V`',
    ]);
    expect(told({ 'cells.yaml': 'name: l\n' })).toEqual(['1 name | no-cells | the library has no cells']);
    expect(told({})).toEqual(['undefined  | no-file | there is no file cells.yaml']);
  });

  it('notes what it takes as given', () => {
    const stub = macro(
      's',
      'PAD SPACER',
      [10, 100],
      [
        {
          pin: 'VDD',
          rects: [
            [0, 50, 1, 60],
            [9, 50, 10, 60],
          ],
        },
      ],
    );
    const one = macro(
      'e',
      'PAD SPACER',
      [10, 100],
      [{ pin: 'VDD', rects: [[0, 50, 1, 60]] }],
      'FOREIGN e 1 0 ;',
    );
    const read = readFiles(files(stub + one));
    expect(read.ok && read.notes.map((note) => `${note.code} | ${note.message}`)).toEqual([
      'stubs-taken-as-joined | LEF draws strips only at the edges of these cells; they are taken as joined inside: s',
      'strip-at-one-edge | a strip of these cells reaches only one edge and is taken to end inside: e',
      'unturned-only | LEF gives these cells no SYMMETRY, so they may not be turned: e',
      'foreign-offset | FOREIGN sets the drawing of these cells off; places are those of the LEF outline: e',
    ]);
  });
});
