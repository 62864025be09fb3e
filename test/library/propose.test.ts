/**
 * A cell file proposed from LEF: it reads again, or exactly the points that only the user can settle stand against it; every
 * point that LEF leaves open is marked.
 * Source of the values: the open libraries, whose open points are those of their notes; and hand-written LEF.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proposeCellFile } from '../../src/library/propose.ts';
import { OPEN_MARK, type ProposedCellFile } from '../../src/library/propose-text.ts';
import { readLibrary } from '../../src/library/read-library.ts';
import type { Outcome } from '../../src/problems/problem.ts';
import { found } from '../../src/problems/problem.ts';
import { LIBRARIES, lefTexts, readFile, thereAre } from './open.ts';
import { type Files, macro, readFiles } from './small.ts';

const CELLS = 'fixtures/proposed/cells.yaml';

function proposal(outcome: Outcome<ProposedCellFile>): ProposedCellFile {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map((p) => p.message).join('\n'));
}

/** The problems that stand against a proposal, as code and cell. */
function against(yaml: string): string[] {
  const read = readLibrary((path) => (path === CELLS ? found(yaml) : readFile(path)), CELLS);
  return read.ok ? [] : read.problems.map((p) => `${p.code} ${/`(.*?)`/.exec(p.message)?.[1]}`);
}

describe.runIf(thereAre)('proposeCellFile on the open libraries', () => {
  it('open-130: gives a file that reads as it is, roles of corner and analog cell marked', () => {
    const { yaml, open } = proposal(proposeCellFile(lefTexts(LIBRARIES[0].folder), CELLS));
    expect(against(yaml)).toEqual([]);
    const read = readLibrary((path) => (path === CELLS ? found(yaml) : readFile(path)), CELLS);
    expect(read.ok && read.value.footprints.size).toBe(22);
    expect(read.ok && read.value.footprints.get('sg13g2_IOPadAnalog')?.role).toBe('analog');
    expect(yaml).toContain(`    role: corner # ${OPEN_MARK} its strips reach two neighbouring edges`);
    expect(open.filter((point) => point.includes('discharge clamp'))).toHaveLength(4);
    expect(open.filter((point) => point.includes('end inside, as they are drawn'))).toEqual([
      'sg13g2_IOPadIOVdd: strips of iovss end inside, as they are drawn; list them under joins if they go on',
      'sg13g2_IOPadVdd: strips of iovdd, iovss end inside, as they are drawn; list them under joins if they go on',
    ]);
    expect(open.some((point) => point.includes('only at the edges of sg13g2_Corner;'))).toBe(true);
  });

  it('open-180: leaves ties, landings and pad sizes to the user, and proposes breaks', () => {
    const { yaml, open } = proposal(proposeCellFile(lefTexts(LIBRARIES[1].folder), CELLS));
    const of = (name: string): string => `gf180mcu_fd_io__${name}`;
    expect(against(yaml).sort()).toEqual(
      [
        `no-landing ${of('asig_5p0')}`,
        `no-landing ${of('dvdd')}`,
        `no-landing ${of('dvss')}`,
        `unknown-pad-size ${of('bi_24t')}`,
        `unstated-tie ${of('dvdd')}`,
        `unstated-tie ${of('dvss')}`,
      ].sort(),
    );
    for (const name of ['brk2', 'brk5'])
      expect(yaml).toContain(
        `  ${of(name)}:\n    role: break # ${OPEN_MARK} it carries 1 of 4 lanes; is that its role?`,
      );
    expect(open.some((point) => point.startsWith(`${of('fillnc')}: may this filler`))).toBe(true);
    // What the user has to settle, settled as the open points say, makes it read.
    const settled = yaml
      .replace('# insidePad:', 'insidePad:')
      .replaceAll(/# landings: (.*), feeds: \[LANE\]/g, 'landings: $1, feeds: [VSS]')
      .replaceAll('# landings:', 'landings:')
      .replaceAll(/^( +)# settle: .*(ties: \[\[\w+, \w+\]\]).*$/gm, '$1$2');
    expect(against(settled)).toEqual([]);
  });

  it('marks each open point once, with the one word', () => {
    for (const { folder } of LIBRARIES) {
      const { yaml, open } = proposal(proposeCellFile(lefTexts(folder), CELLS));
      const marks = yaml.split('\n').filter((line) => line.includes(`# ${OPEN_MARK}`));
      expect(marks).toHaveLength(open.length);
      open.forEach((point, i) => {
        expect(marks[i]?.endsWith(point.replace(/^[^:`]*: /, ''))).toBe(true);
      });
    }
  });
});

describe('proposeCellFile', () => {
  const files = (text: string) => [{ path: 'lib/io.lef', text }];
  const pad = { pin: 'pad', use: 'SIGNAL', rects: [[5, 97, 35, 100]] };
  const vdd = (w: number) => ({ pin: 'VDD', rects: [[0, 50, w, 60]] });
  const vss = (w: number) => ({ pin: 'VSS', rects: [[0, 70, w, 80]] });

  it('sees which way up a library is drawn, and proposes roles for a class that says nothing', () => {
    const lef =
      macro('s', 'PAD', [40, 100], [vdd(40), vss(40), pad]) +
      macro('f', 'PAD', [10, 100], [vdd(10), vss(10)]) +
      macro('b', 'PAD', [2, 100], [vdd(2)]) +
      macro('k', 'PAD', [20, 100], [vdd(20), vss(20), { pin: 'EN', use: 'SIGNAL', rects: [[1, 0, 2, 1]] }]) +
      macro('core', 'CORE', [1, 1], []);
    const { yaml } = proposal(proposeCellFile(files(lef), 'cells.yaml'));
    expect(yaml).toContain('outward: top # where the pad pins lie');
    expect(yaml).toContain('  - lib/io.lef');
    const read = readFiles({ 'cells.yaml': yaml, 'lib/io.lef': lef });
    expect(read.ok && [...read.value.footprints.values()].map((f) => [f.name, f.role, f.drawnFor])).toEqual([
      ['s', 'signal', 'top'],
      ['f', 'filler', 'top'],
      ['b', 'break', 'top'],
      ['k', 'control', 'top'],
    ]);
  });

  it('names files from the cell file\u2019s folder', () => {
    const name = (cellFile: string, path: string): string | undefined =>
      /- (.*)/.exec(
        proposal(proposeCellFile([{ path, text: macro('f', 'PAD SPACER', [1, 9], []) }], cellFile)).yaml,
      )?.[1];
    expect(name('a/b/cells.yaml', 'a/x.lef')).toBe('../x.lef');
    expect(name('./cells.yaml', './a/../x.lef')).toBe('x.lef');
    expect(name('../q/cells.yaml', 'x.lef')).toBe('x.lef');
    expect(name('/q/cells.yaml', '/r/x.lef')).toBe('../r/x.lef');
    expect(name('cells.yaml', '/r/x.lef')).toBe('/r/x.lef');
  });

  it('refuses LEF that is wrong or draws no cells', () => {
    const codes = (text: string): string[] => {
      const read = proposeCellFile(files(text), 'cells.yaml');
      return read.ok ? [] : read.problems.map((p) => p.code);
    };
    expect(codes('MACRO a')).toEqual(['lef-syntax']);
    expect(codes(macro('core', 'CORE', [1, 1], []))).toEqual(['no-cells']);
    expect(codes('')).toEqual(['lef-empty']);
  });

  it('writes YAML that reads back whatever cells and pins are named', () => {
    const name = fc
      .string({ unit: 'grapheme', minLength: 1, maxLength: 12 })
      .filter((s) => !/[\s;"#\p{Cc}\ufffd\ufeff]/u.test(s) && s !== 'END');
    fc.assert(
      fc.property(name, name, (cell, pin) => {
        const lef = macro(cell, 'PAD SPACER', [10, 100], [{ pin, rects: [[0, 50, 10, 60]] }]);
        const outcome = proposeCellFile(files(lef), 'cells.yaml');
        if (!outcome.ok) return;
        const all: Files = { 'cells.yaml': outcome.value.yaml, 'lib/io.lef': lef };
        const read = readFiles(all);
        const codes = read.ok ? [] : read.problems.map((p) => p.code);
        // Some names cannot be keys; nothing else may stand against it.
        expect(codes.filter((code) => code !== 'unsafe-key')).toEqual([]);
        if (read.ok) expect([...read.value.footprints.keys()]).toEqual([cell]);
      }),
      { numRuns: 200 },
    );
  });
});
