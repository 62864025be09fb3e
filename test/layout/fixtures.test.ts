/**
 * Shows that the layout formats hold the rings of the demonstrations and of both open libraries, as the engine lays
 * them: GDSII and DEF read back, Verilog compiled against stub cells and each pin raised in turn.
 *
 * Source of the values: the readers of this folder; Icarus Verilog (absent: the text's own instances only); the open
 * libraries beside the project (absent: these rings are left out, and said so).
 */
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readText } from '../../src/commands/files.ts';
import { difference, isEmpty } from '../../src/compare/difference.ts';
import type { Placement } from '../../src/format/placement.ts';
import { run as runRing } from '../../src/run.ts';
import { def } from '../../src/write/layout/def.ts';
import { databaseUnit, gdsii } from '../../src/write/layout/gdsii.ts';
import type { LayerMap, LayerNumber } from '../../src/write/layout/layers.ts';
import { gatherBits } from '../../src/write/layout/names.ts';
import { FOREIGN } from '../../src/write/layout/netlist.ts';
import { identifier, SUPPLY_GUARD, verilog } from '../../src/write/layout/verilog.ts';
import { compare as compareDef, readBack as readDef } from './def-reader.ts';
import { compare as compareGdsii, readBack as readGdsii } from './gdsii-reader.ts';
import { run, tool } from './outside.ts';

const OPEN = existsSync('../shared/open-io-cells');
if (!OPEN) console.warn('the open libraries are absent: their rings are left out');
const RINGS = [
  'tide-gauge/ring.yaml',
  'frost-hub/ring.yaml',
  'lamp-controller/ring.yaml',
  ...(OPEN ? ['open-130/inline.ring.yaml', 'open-130/staggered.ring.yaml', 'open-180/ring.yaml'] : []),
];

function laid(file: string, keep?: Placement): Placement {
  const outcome = runRing(readText, join('fixtures', file), keep);
  if (outcome.kind !== 'laid') throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.placement;
}

/** A layer number for every name that occurs. */
function layersOf(placement: Placement): LayerMap {
  const numbered = (names: Iterable<string>, from: number): Record<string, LayerNumber> =>
    Object.fromEntries([...new Set(names)].map((name, i) => [name, { layer: from + i, datatype: 0 }]));
  const strips = placement.coreStrips ?? [];
  return {
    bondPads: { layer: 1, datatype: 0 },
    openings: { layer: 2, datatype: 0 },
    labels: { layer: 1, datatype: 1 },
    die: { layer: 3, datatype: 0 },
    cells: { layer: 3, datatype: 1 },
    stems: numbered(
      placement.stems.flatMap((s) => s.layers),
      10,
    ),
    rails: numbered(
      placement.rails.flatMap((r) => r.rectangles.map((b) => b.layer)),
      30,
    ),
    coreStrips: numbered(
      strips.flatMap((s) => [...s.rectangles, ...s.straps].map((b) => b.layer)),
      60,
    ),
  };
}

/** A module for every footprint with pins: what its landings and signals are called, nothing inside. */
function stubs(placement: Placement): string {
  const used = new Set(placement.cells.map((cell) => cell.footprint));
  return placement.footprints
    .filter((f) => used.has(f.name))
    .map((f) => {
      const signals = (f.signals ?? []).filter((s) => !f.landings.some((l) => l.name === s.name));
      const directions = new Map(signals.map((s) => [s.name.replace(/\[\d+\]$/u, ''), s.direction]));
      const { ports } = gatherBits([...f.landings.map((l) => l.name), ...signals.map((s) => s.name)]);
      const list = ports.map(({ name, range }) => {
        const bits = range ? `[${range.high}:${range.low}] ` : '';
        return `${directions.get(name) ?? 'inout'} ${bits}${identifier(name)}`;
      });
      return `module ${identifier(f.name.replaceAll(FOREIGN, '_'))}(${list.join(', ')}); endmodule\n`;
    })
    .join('');
}

describe.each(RINGS)('%s', (file) => {
  const placement = laid(file);

  it('is held by GDSII and DEF', () => {
    const layers = layersOf(placement);
    const bytes = gdsii(placement, layers);
    if (!bytes.ok) throw new Error(bytes.problems.map((p) => p.message).join('\n'));
    compareGdsii(placement, readGdsii(bytes.value), databaseUnit(placement.units.grid), layers);
    const text = def(placement);
    if (!text.ok) throw new Error(text.problems.map((p) => p.message).join('\n'));
    const read = readDef(text.value);
    compareDef(placement, read);
    expect(read.pins).toHaveLength(new Set(placement.bondPads.map((pad) => pad.pin)).size);
  });

  it('compiles as Verilog, and each pin reaches its cell and no other', () => {
    const text = verilog(placement);
    if (!text.ok) throw new Error(text.problems.map((p) => p.message).join('\n'));
    const instances = placement.bondPads.map((pad) => ({
      pad,
      path: `ring.${identifier(`io_${pad.cell}`.replaceAll(FOREIGN, '_'))}.${identifier(pad.landing)}`,
    }));
    for (const { pad } of instances)
      expect(text.value).toContain(identifier(`io_${pad.cell}`.replaceAll(FOREIGN, '_')));
    const iverilog = tool('iverilog', ['iverilog'], ['-V']);
    if (iverilog === null) return;
    const { bitOf } = gatherBits(placement.bondPads.map((pad) => pad.pin));
    const port = (pin: string): string => {
      const { port: name, bit } = bitOf.get(pin) ?? { port: pin, bit: null };
      return bit === null ? identifier(name) : `${identifier(name)}[${bit}]`;
    };
    const steps = placement.bondPads.flatMap((pad, i) => [
      `force ring.${port(pad.pin)} = 1'b1; #1; i = ${i}; look;`,
      `force ring.${port(pad.pin)} = 1'b0; #1;`,
    ]);
    const look = instances.map(({ path }, i) => `if (${path} === 1'b1) $display("%0d ${i}", i);`);
    const module = identifier(placement.ring.replaceAll(FOREIGN, '_'));
    const bench = `module bench; integer i; ${module} ring();
  task look; begin
    ${look.join('\n    ')}
  end endtask
  initial begin
    ${steps.join('\n    ')}
  end
endmodule
`;
    const folder = mkdtempSync(join(tmpdir(), 'ringwright-verilog-'));
    try {
      const [source, compiled] = [join(folder, 'ring.v'), join(folder, 'ring.vvp')];
      writeFileSync(source, `${stubs(placement)}${text.value}${bench}`);
      const made = run(iverilog, ['-g2001', `-D${SUPPLY_GUARD}`, '-s', 'bench', '-o', compiled, source]);
      expect(made.status, made.err).toBe(0);
      const seen = run('vvp', [compiled])
        .out.split('\n')
        .filter((line) => line !== '');
      const { bondPads } = placement;
      const joined = bondPads.flatMap((raised, i) =>
        bondPads.flatMap((pad, k) => (pad.pin === raised.pin ? [`${i} ${k}`] : [])),
      );
      expect(seen).toEqual(joined);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('does not differ from itself, also when it is laid again to keep what it was', () => {
    expect(isEmpty(difference(placement, placement))).toBe(true);
    const again = difference(placement, laid(file, placement));
    expect({ ...again, rest: [] }).toEqual({ ...difference(placement, placement), rest: [] });
  });
});
