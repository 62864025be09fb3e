/**
 * Shows: what a library demands of a section holds in each run that other sections part from the rest; a stem that meets
 * a strip of another net is a short; a strip that a plain cell cuts beside another is told. Source: ring-model sections
 * 2 and 5, sentence by sentence; the rings are built in code.
 */
import { describe, expect, it } from 'vitest';
import type { Footprint } from '../../src/library/footprint.ts';
import { lay } from '../../src/run.ts';
import type { Entry, Ring } from '../../src/spec/ring.ts';
import { entry, footprint, LANES, library, ring, SECTION, throughLanes, um } from '../helpers/ring.ts';

const START = footprint('start', 'control', 18, { landings: [], perSection: { least: 1, most: 1 } });
const NEEDY = footprint('needy', 'analog', 40, { needs: ['start'] });

const named = (cells: readonly Footprint[], name: string): Footprint => {
  const cell = cells.find((f) => f.name === name);
  if (cell === undefined) throw new Error(`no ${name}`);
  return cell;
};

const findingsOf = (made: Ring) => {
  const laid = lay(made);
  if (!laid.ok) throw new Error(JSON.stringify(laid.problems));
  return laid.value.findings;
};

const errorsOf = (made: Ring): readonly string[] =>
  findingsOf(made)
    .filter((f) => f.severity === 'error')
    .map((f) => f.rule);

describe('runs of a section', () => {
  const cells = [...library(), START, NEEDY];
  const section = (name: string, nets = name) => ({
    ...SECTION,
    name,
    lanes: new Map(LANES.map((lane) => [lane, `${nets}_${lane.toLowerCase()}`])),
  });
  /** The supplies of a section's run, and its start cell where it is to have one. */
  const run = (of: string, n: number, starts: number, nets = of): Entry[] => [
    ...LANES.map((lane) =>
      entry(named(cells, `sup_${lane.toLowerCase()}`), `${of}${n}_${lane}`, {
        section: of,
        nets: [`${nets}_${lane.toLowerCase()}`],
      }),
    ),
    ...Array.from({ length: starts }, () => entry(START, null, { section: of })),
  ];
  const sides = (starts: readonly number[], nets?: string) => ({
    left: run('a', 1, starts[0] ?? 1, nets),
    bottom: run('b', 2, starts[1] ?? 1, nets),
    right: run('a', 3, starts[2] ?? 1, nets),
    top: run('b', 4, starts[3] ?? 1, nets),
  });
  const made = (starts: readonly number[], more: readonly Entry[] = []) => {
    const all = sides(starts);
    return ring(
      cells,
      'inline',
      { ...all, right: [...all.right, ...more] },
      { sections: [section('a'), section('b')] },
    );
  };

  it('each have the cells that the library demands', () => {
    expect(errorsOf(made([1, 1, 1, 1]))).toEqual([]);
    expect(errorsOf(made([1, 1, 0, 1]))).toEqual(['section-count']);
    expect(errorsOf(made([2, 1, 0, 1]))).toEqual(['section-count', 'section-count']);
  });

  it('each have the cell that another relies on', () => {
    const needy = entry(NEEDY, 'x', { section: 'a', nets: ['x'] });
    expect(errorsOf(made([1, 1, 1, 1], [needy]))).toEqual([]);
    expect(errorsOf(made([1, 1, 0, 1], [needy]))).toEqual(['section-count', 'section-needs']);
  });

  it('are one where nothing parts them: sections of the same nets need no break cell', () => {
    const one = (starts: readonly number[]) =>
      ring(cells, 'inline', sides(starts, 'n'), { sections: [section('a', 'n'), section('b', 'n')] });
    expect(errorsOf(one([1, 1, 0, 0]))).toEqual([]);
    expect(errorsOf(one([1, 1, 1, 0]))).toEqual(['section-count']);
  });
});

describe('stems', () => {
  /** Cells set back by 60 um beside others that are not, whose landing lies at their edge; stems run past the neighbour. */
  const made = (at: number, layer: string, net?: string) => {
    const back = footprint('back', 'signal', 60, {
      setback: um(60),
      depth: um(180),
      lanes: throughLanes('M5').map((lane) => ({
        ...lane,
        strips: lane.strips.map((s) => ({ ...s, from: um(s.from / 1e6 - 19), to: um(s.to / 1e6 - 19) })),
      })),
      landings: [{ name: 'pad', at: um(at), feeds: [], inside: null }],
    });
    const cells = [...library(60), back];
    const supplies = LANES.map((lane) => entry(named(cells, `sup_${lane.toLowerCase()}`), lane));
    const own = entry(back, 'x', net === undefined ? {} : { nets: [net] });
    return ring(
      cells,
      'inline',
      { left: [...supplies, own] },
      { stems: { width: um(12), spacing: um(4), layers: [layer] } },
    );
  };
  const about = (rule: string, of: Ring) => findingsOf(of).filter((f) => f.rule === rule);

  it('that cross a strip of a neighbour on its layer are shorts', () => {
    const [short] = about('stem-short', made(2, 'M5'));
    expect(short?.severity).toBe('error');
    expect(short?.message).toContain('meets VDD (M5), VSS (M5)');
    expect(about('stem-on-cell', made(2, 'M5'))).toEqual([]);
  });

  it('that cross a neighbour on a layer of their own are told', () => {
    expect(about('stem-short', made(2, 'M7'))).toEqual([]);
    const told = about('stem-on-cell', made(2, 'M7'));
    expect(new Set(told.map((f) => f.severity))).toEqual(new Set(['warning']));
  });

  it('that stay within their own cell are neither', () => {
    for (const rule of ['stem-short', 'stem-on-cell']) expect(about(rule, made(30, 'M5'))).toEqual([]);
  });

  it('that end at a strip of their own cell are shorts, unless it is on their net', () => {
    const edge = (lane: string) => {
      const cells = library().map((f) =>
        f.name === 'sup_vdd'
          ? {
              ...f,
              lanes: [
                ...f.lanes.filter((l) => l.lane !== lane),
                {
                  lane,
                  strips: [
                    ...(f.lanes.find((l) => l.lane === lane)?.strips ?? []),
                    { layer: 'M5', from: um(0), to: um(8), edges: 'both' as const, carry: 'cut' as const },
                  ],
                },
              ],
            }
          : f,
      );
      return ring(cells, 'inline', {
        left: LANES.map((l) => entry(named(cells, `sup_${l.toLowerCase()}`), l)),
      });
    };
    expect(about('stem-short', edge('VDD'))).toEqual([]);
    expect(about('stem-short', edge('VSS'))).toHaveLength(1);
  });
});

describe('a strip that a plain cell cuts', () => {
  it('is told while the lane goes on in another one', () => {
    const cells = library().map((f) =>
      f.name === 'io'
        ? {
            ...f,
            lanes: f.lanes.map((l) => ({
              ...l,
              strips: [...l.strips, ...l.strips.map((s) => ({ ...s, layer: 'M4', carry: 'cut' as const }))],
            })),
          }
        : {
            ...f,
            lanes: f.lanes.map((l) => ({
              ...l,
              strips: [...l.strips, ...l.strips.map((s) => ({ ...s, layer: 'M4' }))],
            })),
          },
    );
    const supplies = LANES.map((lane) => entry(named(cells, `sup_${lane.toLowerCase()}`), lane));
    const io = named(cells, 'io');
    const findings = findingsOf(
      ring(cells, 'inline', { left: [...supplies, entry(io, 'x'), entry(io, 'y')] }),
    );
    expect(findings.map((f) => [f.rule, f.severity, f.items])).toEqual([['strip-cut', 'note', ['io']]]);
    expect(findings[0]?.message).toContain('VDD on M4, VSS on M4, VDDIO on M4, VSSIO on M4');
  });
});

describe('a pad that feeds no lane', () => {
  it('may not be on a power net, unless that is waived', () => {
    const cells = library();
    const supplies = LANES.map((lane) => entry(named(cells, `sup_${lane.toLowerCase()}`), lane));
    const left = [...supplies, entry(named(cells, 'io'), 'x', { nets: ['vss'] })];
    const plain = findingsOf(ring(cells, 'inline', { left }));
    expect(plain.map((f) => [f.rule, f.severity])).toEqual([['signal-net', 'error']]);
    const waivers = [{ rule: 'signal-net', items: ['x'], reason: 'a strap to ground' }];
    const waived = findingsOf(ring(cells, 'inline', { left }, { waivers }));
    expect(waived.map((f) => [f.rule, f.waived])).toEqual([
      ['signal-net', 'a strap to ground'],
      ['waiver-used', undefined],
    ]);
  });
});
