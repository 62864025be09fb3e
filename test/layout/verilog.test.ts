/**
 * Shows that the structural Verilog compiles against stub cells and joins what the placement joins: a simulator
 * raises each pin in turn, and each core-side output, and tells which cells see it.
 *
 * Source of the values: Icarus Verilog as an independent reader of IEEE 1364; the placement's pin list. Where the
 * tool is absent, the recorded value is the digest of the text that it was given.
 */
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Placement } from '../../src/format/placement.ts';
import { legalByName } from '../../src/write/layout/names.ts';
import { FOREIGN } from '../../src/write/layout/netlist.ts';
import { identifier, SUPPLY_GUARD, verilog } from '../../src/write/layout/verilog.ts';
import { run, tool } from './outside.ts';
import { anyPlacement, sample } from './sample.ts';

const written = (placement: Placement): string => {
  const outcome = verilog(placement);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
};

/** Compiles with some extra text and macros and runs; the lines that the run printed. */
function simulate(iverilog: string, text: string, args: readonly string[] = []): string[] {
  const folder = mkdtempSync(join(tmpdir(), 'ringwright-verilog-'));
  try {
    const [source, compiled] = [join(folder, 'ring.v'), join(folder, 'ring.vvp')];
    writeFileSync(source, text);
    const made = run(iverilog, ['-g2001', '-Wall', ...args, '-o', compiled, source]);
    expect(made.status, made.err).toBe(0);
    const ran = run('vvp', [compiled]);
    expect(ran.status, ran.err).toBe(0);
    return ran.out.split('\n').filter((line) => line !== '');
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const IO = `module io(inout PAD, output Y, input A, input OE, input [1:0] DRIVE);
  assign Y = PAD;
endmodule
`;
const SUPPLIES = `module power(inout PAD); endmodule
module ground(inout PAD); endmodule
`;

describe('Verilog in Icarus Verilog', () => {
  const RECORDED = '4814bf3549348457ebdf0463f5557fda50ac22d528c223711350a237175354e8';

  it('joins each pin, each core signal and each constant as the pin list says', () => {
    const placement = sample();
    const text = written(placement);
    expect(createHash('sha256').update(text).digest('hex')).toBe(RECORDED);
    const iverilog = tool('iverilog', ['iverilog'], ['-V']);
    if (iverilog === null) return;
    const pins = ['sda', 'scl', 'VDD_1', 'data[0]', 'data[1]', 'VSS_1', 'adc_in', 'lone[7]', 'module', 'clk'];
    const cells = placement.bondPads.map((pad) => ({
      pad,
      tied: placement.cells.find((c) => c.name === pad.cell)?.tied ?? {},
      instance: identifier(`io_${pad.pin.replace(' ', '_')}`),
      signal: pad.net !== 'VDD' && pad.net !== 'VSS',
    }));
    const ports = [
      '.sda(p[0])',
      '.scl(p[1])',
      '.VDD_1(p[2])',
      '.data(p[4:3])',
      '.VSS_1(p[5])',
      '.adc_in(p[6])',
      '.lone(p[7])',
      '.\\module (p[8])',
      '.clk(p[9])',
      '.data_Y(y)',
      '.data_A(a)',
      '.sda_DRIVE(drive)',
    ];
    const bench = `module bench;
  reg [9:0] drive_pins; reg [1:0] a; reg [1:0] drive; wire [1:0] y; wire [9:0] p = drive_pins;
  tide_gauge ring(${ports.join(', ')});
  integer i;
  initial begin
    a = 2'b10; drive = 2'b01;
    for (i = 0; i < 10; i = i + 1) begin
      drive_pins = 10'd1 << i; #1;
      ${cells
        .filter((c) => c.signal)
        .map((c) => `$display("pin %0d ${c.pad.number - 1} %b", i, ring.${c.instance}.PAD);`)
        .join('\n      ')}
      $display("y %0d %b", i, y);
    end
    $display("a %b %b", ring.${identifier('io_data[1]')}.A, ring.${identifier('io_data[0]')}.A);
    $display("drive %b", ring.io_sda.DRIVE);
    $display("tied %b %b %b", ring.io_clk.OE, ring.${identifier('io_lone[7]')}.OE, ring.${identifier('io_lone[7]')}.DRIVE);
    $display("open %b", ring.io_sda.OE);
    `;
    const lines = simulate(iverilog, `${IO}${text}${bench}  end\nendmodule\n`);
    const seen = lines.filter((line) => line.startsWith('pin ')).map((line) => line.split(' ').slice(1));
    expect(seen).toHaveLength(80);
    for (const [raised, watched, value] of seen) expect(value).toBe(raised === watched ? '1' : '0');
    expect(lines.filter((l) => l.startsWith('y ')).map((l) => l.split(' ')[2])).toEqual(
      pins.map((pin) => (pin === 'data[0]' ? '01' : pin === 'data[1]' ? '10' : '00')),
    );
    expect(lines).toContain('a 1 0');
    expect(lines).toContain('drive 01');
    expect(lines).toContain('tied 0 0 1z');
    expect(lines).toContain('open z');

    const supplies = `${bench}
    drive_pins = 10'b0000000100; #1;
    $display("supplies %b %b", ring.io_VDD_1.PAD, ring.io_VSS_1.PAD);
    drive_pins = 10'b0000100000; #1;
    $display("supplies %b %b", ring.io_VDD_1.PAD, ring.io_VSS_1.PAD);
  end
endmodule
`;
    const guarded = simulate(iverilog, `${IO}${SUPPLIES}${text}${supplies}`, [`-D${SUPPLY_GUARD}`]);
    expect(guarded.filter((l) => l.startsWith('supplies'))).toEqual(['supplies 1 0', 'supplies 0 1']);
  });

  it('compiles whatever the names are', () => {
    const iverilog = tool('iverilog', ['iverilog'], ['-V']);
    if (iverilog === null) return;
    const texts: string[] = [];
    const stubs = new Map<string, string>();
    fc.assert(
      fc.property(anyPlacement, (placement) => {
        // Icarus has this name for a handle of a class, and takes a net of that name for one.
        fc.pre(!placement.cells.some(({ name }) => name.split('[')[0] === '#'));
        // One compilation for all: each ring's module and cells get a number of their own.
        const k = texts.length;
        const renamed: Placement = {
          ...placement,
          ring: `${placement.ring} ${k}`,
          footprints: placement.footprints.map((f) => ({ ...f, name: `${f.name}${k}` })),
          cells: placement.cells.map((c) => ({ ...c, footprint: `${c.footprint}${k}` })),
        };
        const models = legalByName(
          renamed.cells.map((c) => c.footprint),
          FOREIGN,
        );
        for (const f of renamed.footprints)
          stubs.set(
            identifier(models.get(f.name) ?? 'unused'),
            f.role === 'signal' ? IO.slice(9) : '(inout PAD); endmodule\n',
          );
        texts.push(written(renamed));
      }),
      { numRuns: 100 },
    );
    const cells = [...stubs].map(([name, rest]) => `module ${name} ${rest}`);
    const lines = simulate(iverilog, `${cells.join('')}${texts.join('')}`, [`-D${SUPPLY_GUARD}`]);
    expect(lines).toEqual([]);
  });
});

describe('the Verilog text', () => {
  it('escapes the words of Verilog and of its successor', () => {
    expect(['sda', 'do', 'wire', 'a.b', '2x'].map(identifier)).toEqual([
      'sda',
      '\\do ',
      '\\wire ',
      '\\a.b ',
      '\\2x ',
    ]);
  });

  it('keeps supply-only cells behind the guard and leaves fillers out', () => {
    const [before = '', within = '', after = ''] = written(sample()).split(/^`.*\n/mu);
    expect(before).toContain('io io_sda(');
    expect(before).not.toContain('power');
    expect(within).toContain('power io_VDD_1(');
    expect(within).toContain('ground io_VSS_1(');
    expect(after).toBe('endmodule\n');
    expect(before + within).not.toContain('f-10');
  });

  it('ports every pin once, and no input that is tied', () => {
    const text = written(sample());
    // Ten pins, two of them one bus; four ports of eight cells, three of them taken together, two of them tied.
    expect(text.match(/^ {2}(inout|input|output) /gmu)).toHaveLength(10 - 1 + 8 * 4 - 3 - 2);
    expect(text).toContain('  inout [1:0] data,\n');
    expect(text).not.toMatch(/(input|output) clk_OE/u);
    expect(text).toContain(".OE(1'b0)");
  });

  it('keeps a pin without a bond pad on its landing', () => {
    const base = sample();
    const text = written({ ...base, bondPads: base.bondPads.filter((p) => p.pin !== 'scl') });
    expect(text).toContain('  io io_scl(\n    .PAD(scl),');
  });

  it('keeps the ports of a cell apart whose names differ by a sign that Verilog does not have', () => {
    const base = sample();
    const named = (name: string): string => (name === 'A' ? 'x y' : name === 'Y' ? 'x_y' : name);
    const footprints = base.footprints.map((f) => ({
      ...f,
      ...(f.signals === undefined
        ? {}
        : { signals: f.signals.map((one) => ({ ...one, name: named(one.name) })) }),
    }));
    const text = written({ ...base, footprints });
    expect(text).toMatch(/io io_scl\([^;]*\.x_y_2\([^;]*\);/u);
    expect(text).toMatch(/io io_scl\([^;]*\.x_y\([^;]*\);/u);
  });

  it('refuses a constant on what is no input', () => {
    const wrong = sample({ sides: { left: [{ pin: 'p', tied: { Y: 1, NO: 0 } }] } });
    const outcome = verilog(wrong);
    expect(outcome.ok ? [] : outcome.problems).toMatchObject([
      { code: 'tied-no-input', mend: 'its inputs are A, OE, DRIVE[0], DRIVE[1]' },
      { code: 'tied-no-input' },
    ]);
  });
});
