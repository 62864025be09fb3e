/**
 * Shows that a list of ports is read as IEEE 1364-2001 and plain lists have it, that what cannot be read is told with
 * its place, and that ports and pins are held against each other both ways.
 *
 * Source of the values: the headers are written out by hand from the standard's grammar (clause 12.3, from memory);
 * the ring's own Verilog writer for the way back.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePorts, portsText, readPorts } from '../../src/compare/ports.ts';
import { gatherBits } from '../../src/write/layout/names.ts';
import { identifier, verilog } from '../../src/write/layout/verilog.ts';
import { sample } from '../layout/sample.ts';

const portsOf = (text: string): readonly string[] => {
  const outcome = readPorts(text, 'chip.v');
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => `${p.message} ${p.place?.line}`).join('\n'));
  return outcome.value.ports.map(({ name, direction }) => (direction ? `${direction} ${name}` : name));
};
const problemsOf = (text: string): readonly string[] => {
  const outcome = readPorts(text, 'chip.v');
  return outcome.ok
    ? []
    : outcome.problems.map((p) => `${p.place?.line}:${p.place?.column} ${p.code}: ${p.message}`);
};

describe('a module header', () => {
  it('reads ports that are declared in the header', () => {
    expect(
      portsOf(`
        \`timescale 1ns/1ps
        // module wrong(input x);
        /* module wrong2(input y); */
        (* top = 1 *) module chip #(parameter W = 2, D = W*2+1) (
          input  wire clk, rst_n,        // two of one kind
          output reg signed [W-1:0] count,
          (* keep *) inout [D : 4'd4] \\bus-a , inout sda = 1'b0,
          output logic done
        );
        endmodule`),
    ).toEqual([
      'input clk',
      'input rst_n',
      'output count[1]',
      'output count[0]',
      'inout bus-a[5]',
      'inout bus-a[4]',
      'inout sda',
      'output done',
    ]);
  });

  it('reads ports that are declared behind the header', () => {
    expect(
      portsOf(`module chip(a, b, \\c[0] , d);
        parameter W = 3;
        input a; output reg [W-1:W-2] b;
        function f; input z; f = z; endfunction
        inout \\c[0] ; input [0:1] d;
        assign b = "module text(";
      endmodule`),
    ).toEqual(['input a', 'output b[2]', 'output b[1]', 'inout c[0]', 'input d[1]', 'input d[0]']);
  });

  it('keeps places as line and column', () => {
    const outcome = readPorts('module c(\n  input a,\n  input [1:0] \\b+ \n);endmodule', 'chip.v');
    expect(outcome.ok && outcome.value.module).toBe('c');
    expect(outcome.ok && outcome.value.ports.map((p) => [p.name, p.place.line, p.place.column])).toEqual([
      ['a', 2, 9],
      ['b+[1]', 3, 15],
      ['b+[0]', 3, 15],
    ]);
  });

  it('takes back what the Verilog writer ports', () => {
    const text = verilog(sample());
    if (!text.ok) throw new Error('the sample has no Verilog');
    const ports = portsOf(text.value);
    const pins = ports.filter((port) => port.startsWith('inout ')).map((port) => port.slice(6));
    expect(pins.sort()).toEqual(
      ['sda', 'scl', 'VDD_1', 'data[0]', 'data[1]', 'VSS_1', 'adc_in', 'lone[7]', 'module', 'clk'].sort(),
    );
    expect(ports).toContain('input data_A[1]');
  });

  it('reads any names and ranges', () => {
    const name = fc.stringMatching(/^[!-~]{1,8}$/u).filter((n) => !/[`"]|\/[/*]|[[\]]/u.test(n));
    const port = fc.record({ name, range: fc.option(fc.tuple(fc.nat(40), fc.nat(40))) });
    fc.assert(
      fc.property(
        fc.uniqueArray(port, { selector: (p) => p.name, minLength: 1 }),
        fc.boolean(),
        (list, ansi) => {
          const range = (r: readonly number[] | null) => (r ? `[${r[0]}:${r[1]}] ` : '');
          const heads = list.map((p) => `inout ${range(p.range)}${identifier(p.name)}`);
          const text = ansi
            ? `module m(${heads.join(',')});`
            : `module m(${list.map((p) => identifier(p.name)).join(',')});${heads.join(';')};`;
          const expected = list.flatMap(({ name: base, range: r }) => {
            if (!r) return [`inout ${base}`];
            const [low, high] = [Math.min(...r), Math.max(...r)];
            return Array.from({ length: high - low + 1 }, (_, i) => `inout ${base}[${high - i}]`);
          });
          expect(portsOf(`${text} endmodule`)).toEqual(expected);
        },
      ),
    );
  });
});

describe('a plain list', () => {
  it('reads names, vectors and comments', () => {
    expect(portsOf('\ufeff# the pins\nsda, scl // bus\n/* not\nthis */ data[2:1]\na#b\nmodule')).toEqual([
      'sda',
      'scl',
      'data[2]',
      'data[1]',
      'a#b',
      'module',
    ]);
  });
});

describe('what cannot be read', () => {
  it.each([
    ['a double in a list', 'a\nb\n  a\n', ['3:3 double-port: port a stands in the list a second time']],
    [
      'a double in a header, as a bit and as a name',
      'module m(input [1:0] a,\n  input \\a[1] );endmodule',
      ['2:9 double-port: port a[1] stands in the list a second time'],
    ],
    ['an empty file', ' \n// nothing\n', ['1:1 no-ports: the list has no port']],
    ['a module without ports', 'module m; endmodule', ['1:1 no-ports: the list has no port']],
    [
      'a range that cannot be worked out',
      'module m(input [W:0] a); endmodule',
      ['1:16 port-range: this range cannot be worked out'],
    ],
    [
      'a range without end',
      'module m(input [99999999:0] a, input b); endmodule',
      ['1:16 port-range: this range has more than 65536 bits'],
    ],
    [
      'a name without direction',
      'module m(a, b); input a; endmodule',
      ['1:13 undeclared-port: port b has no direction'],
    ],
    [
      'a port that is an expression',
      'module m(.a(b)); input b; endmodule',
      ['1:10 module-header: a port that is an expression is not taken apart'],
    ],
    [
      'a type of its own',
      'module m(input pair_t a); endmodule',
      ['1:23 module-header: port pair_t is followed by neither a comma nor the end'],
    ],
    [
      'an array of ports',
      'module m(input [1:0] a [3:0]); endmodule',
      ['1:24 port-range: a port that is an array is not taken apart'],
    ],
    ['an open bracket', 'module m(input a', ['1:9 open-bracket: this ( has no )']],
    ['an open comment', 'module m(input a); /* endmodule', ['1:20 open-comment: this comment has no end']],
    [
      'two modules',
      'module m(input a); endmodule\nmodule n(input b); endmodule',
      ['2:8 several-modules: the file has several modules, m and n among them'],
    ],
    [
      'a header that a directive decides',
      'module m(input a\n`ifdef X\n, input b\n`endif\n); endmodule',
      ['2:1 conditional-ports: a directive decides which ports there are'],
    ],
  ])('tells %s with its place', (_, text, expected) => {
    expect(problemsOf(text)).toEqual(expected);
  });

  it('is never a fault, whatever the bytes are', () => {
    const words = [
      'module m',
      '(',
      ')',
      'input',
      '[',
      ']',
      ':',
      ';',
      '`ifdef X\n',
      '(*',
      '*)',
      '/*',
      '*/',
      '#',
      '"',
    ];
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 60 }),
      fc
        .array(fc.oneof(fc.constantFrom(...words), fc.string({ maxLength: 4 })))
        .map((list) => list.join(' ')),
    );
    fc.assert(
      fc.property(text, (bytes) => {
        const outcome = readPorts(bytes, 'chip.v');
        if (outcome.ok) expect(outcome.value.ports.length).toBeGreaterThan(0);
        else for (const problem of outcome.problems) expect(problem.place?.line).toBeGreaterThan(0);
      }),
      { numRuns: 2000 },
    );
  });

  /** The clock is a guard against hanging: each of these took minutes in a reader that scans to the end each time. */
  it('does not hang on openings without ends', { timeout: 20_000 }, () => {
    for (const opening of ['/*', '(* a ', '"', '[', '(', 'module m(', '`ifdef', '\\', "4'd"])
      expect(problemsOf(opening.repeat(200_000)).length).toBeGreaterThan(0);
    expect(problemsOf('a\n'.repeat(60_000))).toHaveLength(101);
  });
});

describe('ports against pins', () => {
  const compared = (text: string) => {
    const list = readPorts(text, 'chip.v');
    if (!list.ok) throw new Error('unreadable');
    return comparePorts(list.value, sample());
  };
  const ALL = 'sda scl VDD data[1:0] VSS_1 adc_in lone[7] module clk';

  it('reports both ways, with the nearest name', () => {
    const comparison = compared(`${ALL.replace('sda', 'sdda').replace('VSS_1', '')} extra`);
    expect(comparison.portsWithoutPin.map(({ port, nearest }) => [port.name, nearest])).toEqual([
      ['sdda', 'sda'],
      ['adc_in', 'adc in'],
      ['extra', null],
    ]);
    expect(comparison.pinsWithoutPort).toEqual([
      { pin: 'sda', net: 'sda', kind: 'signal' },
      { pin: 'VSS_1', net: 'VSS', kind: 'ground' },
      { pin: 'adc in', net: 'adc in', kind: 'signal' },
    ]);
    expect(comparison).not.toEqual({ portsWithoutPin: [], pinsWithoutPort: [] });
    expect(portsText(comparison)).toBe(
      [
        'chip.v:1:1: port sdda has no pin; a pin without a port is sda',
        'chip.v:1:25: port adc_in has no pin; a pin without a port is adc in',
        'chip.v:1:51: port extra has no pin',
        'pin sda has no port',
        'pin VSS_1 on net VSS has no port (ground)',
        'pin adc in has no port',
        '',
      ].join('\n'),
    );
  });

  it('agrees where each has the other, by pin or by net', () => {
    const placement = sample({ sides: { right: [{ pin: 'lone[7]' }] } });
    const list = readPorts('sda scl VDD data[1:0] VSS lone[7] module clk', 'chip.v');
    if (!list.ok) throw new Error('unreadable');
    const comparison = comparePorts(list.value, placement);
    expect(comparison).toEqual({ portsWithoutPin: [], pinsWithoutPort: [] });
    expect(portsText(comparison)).toBe('every port has a pin and every pin a port\n');
  });
});

describe('bits taken together', () => {
  it('is undone by taking vectors apart', () => {
    const names = fc.uniqueArray(fc.constantFrom('a', 'a[0]', 'a[1]', 'a[3]', 'b[2]', 'b[3]', 'c[0]', 'd'));
    fc.assert(
      fc.property(names, (list) => {
        const apart = gatherBits(list).ports.flatMap(({ name, range }) =>
          range
            ? Array.from({ length: range.high - range.low + 1 }, (_, i) => `${name}[${range.low + i}]`)
            : [name],
        );
        expect(apart.sort()).toEqual([...list].sort());
      }),
    );
  });
});
