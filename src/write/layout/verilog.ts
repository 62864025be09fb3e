/**
 * The ring as structural Verilog (IEEE 1364-2001): one module that holds every cell with a pin or a signal toward
 * the core. Its ports are the pins and those signals; inputs that the description ties are constants. Cells at which
 * only supplies end stand in a guarded block, because simulation libraries often have no model of them. Fillers,
 * break and corner cells have no connection and are left out.
 *
 * A pin is `inout` whatever its cell does with it: the placement does not know, and a net may always be.
 */
import type { Placement } from '../../format/placement.ts';
import { found, type Outcome } from '../../problems/problem.ts';
import { gatherBits, legalByName, legalNames, type Port, type PortBit, type Ports } from './names.ts';
import { FOREIGN, type Instance, netlist } from './netlist.ts';

/** Defined by whoever has models of the supply cells. */
export const SUPPLY_GUARD = 'RING_SUPPLY_CELLS';

const SIMPLE = /^[A-Za-z_][A-Za-z0-9_$]*$/u;

const KEYWORDS = new Set(
  `always and assign automatic begin buf bufif0 bufif1 case casex casez cell cmos config deassign default defparam
design disable edge else end endcase endconfig endfunction endgenerate endmodule endprimitive endspecify endtable
endtask event for force forever fork function generate genvar highz0 highz1 if ifnone incdir include initial inout
input instance integer join large liblist library localparam macromodule medium module nand negedge nmos nor
noshowcancelled not notif0 notif1 or output parameter pmos posedge primitive pull0 pull1 pulldown pullup
pulsestyle_ondetect pulsestyle_onevent rcmos real realtime reg release repeat rnmos rpmos rtran rtranif0 rtranif1
scalared showcancelled signed small specify specparam strong0 strong1 supply0 supply1 table task time tran tranif0
tranif1 tri tri0 tri1 triand trior trireg unsigned use uwire vectored wait wand weak0 weak1 while wire wor xnor
xor`.split(/\s+/u),
);

/** An identifier as it is written; an escaped one brings the blank that ends it. */
export const identifier = (name: string): string =>
  SIMPLE.test(name) && !KEYWORDS.has(name) ? name : `\\${name} `;

const reference = ({ port, bit }: PortBit): string =>
  bit === null ? identifier(port) : `${identifier(port)}[${bit}]`;

export function verilog(placement: Placement): Outcome<string> {
  const joined = netlist(placement);
  if (!joined.ok) return joined;
  const { instances, pins, core, coreDirection } = joined.value;
  const models = legalByName(
    placement.cells.map((cell) => cell.footprint),
    FOREIGN,
  );
  const [module = 'ring'] = legalNames([placement.ring], FOREIGN, models.values());
  const cells = instances.filter(
    ({ cell, pads, core: signals }) =>
      !['filler', 'break', 'corner'].includes(cell.role) || pads.length + signals.length > 0,
  );
  const ports = [
    ...pins.ports.map((port) => `  inout ${declared(port)}`),
    ...core.ports.map((port) => `  ${coreDirection.get(port.name) ?? 'inout'} ${declared(port)}`),
  ];
  const textOf = (instance: Instance): string =>
    instanceText(instance, models.get(instance.cell.footprint) ?? '', pins, core);
  const supplies = cells.filter((cell) => cell.supplyOnly);
  const lines = [
    ports.length === 0
      ? `module ${identifier(module)};`
      : `module ${identifier(module)}(\n${ports.join(',\n')}\n);`,
    ...cells.filter((cell) => !cell.supplyOnly).map(textOf),
    ...(supplies.length === 0 ? [] : [`\`ifdef ${SUPPLY_GUARD}`, ...supplies.map(textOf), '`endif']),
    'endmodule',
  ];
  return found(`${lines.join('\n')}\n`);
}

const declared = (port: Port): string =>
  port.range === null
    ? identifier(port.name)
    : `[${port.range.high}:${port.range.low}] ${identifier(port.name)}`;

const legal = (name: string): string => name.replaceAll(FOREIGN, '_');

function instanceText(instance: Instance, model: string, pins: Ports, core: Ports): string {
  const scalar = (name: string, ports: Ports): string =>
    reference(ports.bitOf.get(name) ?? { port: name, bit: null });
  const joins = new Map<string, string>([
    ...instance.pads.map(({ landing, pin }) => [legal(landing), scalar(pin, pins)] as const),
    ...instance.core.map(
      ({ signal, to }) => [legal(signal), typeof to === 'number' ? `1'b${to}` : scalar(to, core)] as const,
    ),
  ]);
  // LEF lists a vector of the cell bit by bit; its model has it as one port.
  const own = gatherBits(joins.keys());
  const connections = own.ports.map((port) => {
    if (port.range === null) return `.${identifier(port.name)}(${joins.get(port.name) ?? ''})`;
    const bits: string[] = [];
    for (let bit = port.range.high; bit >= port.range.low; bit--)
      bits.push(joins.get(`${port.name}[${bit}]`) ?? '');
    return `.${identifier(port.name)}({${bits.join(', ')}})`;
  });
  const head = `  ${identifier(model)} ${identifier(instance.name)}`;
  return connections.length === 0 ? `${head}();` : `${head}(\n    ${connections.join(',\n    ')}\n  );`;
}
