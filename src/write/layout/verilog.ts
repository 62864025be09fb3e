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
import {
  gatherBits,
  legalByName,
  legalNames,
  type Port,
  type PortBit,
  type Ports,
  terminalNames,
} from './names.ts';
import { FOREIGN, type Instance, netlist } from './netlist.ts';

/** Defined by whoever has models of the supply cells. */
export const SUPPLY_GUARD = 'RING_SUPPLY_CELLS';

const SIMPLE = /^[A-Za-z_][A-Za-z0-9_$]*$/u;

/** Of IEEE 1364-2001, and of IEEE 1800-2017, with which many readers read it: a pin named `do` is nothing rare. */
const KEYWORDS = new Set(
  `accept_on alias always always_comb always_ff always_latch and assert assign assume automatic before begin bind bins
binsof bit break buf bufif0 bufif1 byte case casex casez cell chandle checker class clocking cmos config const
constraint context continue cover covergroup coverpoint cross deassign default defparam design disable dist do edge
else end endcase endchecker endclass endclocking endconfig endfunction endgenerate endgroup endinterface endmodule
endpackage endprimitive endprogram endproperty endsequence endspecify endtable endtask enum event eventually expect
export extends extern final first_match for force foreach forever fork forkjoin function generate genvar global
highz0 highz1 if iff ifnone ignore_bins illegal_bins implements implies import incdir include initial inout input
inside instance int integer interconnect interface intersect join join_any join_none large let liblist library local
localparam logic longint macromodule matches medium modport module nand negedge nettype new nexttime nmos nor
noshowcancelled not notif0 notif1 null or output package packed parameter pmos posedge primitive priority program
property protected pull0 pull1 pulldown pullup pulsestyle_ondetect pulsestyle_onevent pure rand randc randcase
randsequence rcmos real realtime ref reg reject_on release repeat restrict return rnmos rpmos rtran rtranif0 rtranif1
s_always s_eventually s_nexttime s_until s_until_with scalared sequence shortint shortreal showcancelled signed small
soft solve specify specparam static string strong strong0 strong1 struct super supply0 supply1 sync_accept_on
sync_reject_on table tagged task this throughout time timeprecision timeunit tran tranif0 tranif1 tri tri0 tri1 triand
trior trireg type typedef union unique unique0 unsigned until until_with untyped use uwire var vectored virtual void
wait wait_order wand weak weak0 weak1 while wildcard wire with within wor xnor xor`.split(/\s+/u),
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
  const terminals = terminalNames(placement, FOREIGN);
  const textOf = (instance: Instance): string => {
    const own = terminals.get(instance.cell.name);
    const terminal = (name: string): string => own?.get(name) ?? name;
    return instanceText(instance, models.get(instance.cell.footprint) ?? '', terminal, pins, core);
  };
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

function instanceText(
  instance: Instance,
  model: string,
  terminal: (name: string) => string,
  pins: Ports,
  core: Ports,
): string {
  const scalar = (name: string, ports: Ports): string =>
    reference(ports.bitOf.get(name) ?? { port: name, bit: null });
  const joins = new Map<string, string>([
    ...instance.pads.map(({ landing, pin }) => [terminal(landing), scalar(pin, pins)] as const),
    ...instance.core.map(
      ({ signal, to }) => [terminal(signal), typeof to === 'number' ? `1'b${to}` : scalar(to, core)] as const,
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
