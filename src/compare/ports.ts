/** The chip's ports against the ring's pins, both ways. */
import type { Placement } from '../format/placement.ts';
import { nearest } from '../problems/nearest.ts';
import { failed, found, type Outcome, type Place, type Problem } from '../problems/problem.ts';
import { MOST_PORTS } from './cursor.ts';
import { modulePorts, type Port } from './module.ts';
import { placesIn, type Token, tokensOf } from './tokens.ts';

export interface PortList {
  /** The module's name, or null for a plain list. */
  readonly module: string | null;
  /** Vectors as their bits, the highest first. */
  readonly ports: readonly Port[];
}

/**
 * A list of ports: a Verilog file with one module, or names between blanks and commas, vectors as `data[7:0]`, with
 * `#` or Verilog comments. Doubles and whatever else cannot be read are problems with their places.
 */
export function readPorts(text: string, file: string): Outcome<PortList> {
  const plain = text.replace(/^\ufeff/u, '');
  const { tokens, conditionals, problems: unread } = tokensOf(plain, file);
  const starts = tokens.flatMap((token, i) => (startsModule(token, tokens[i + 2]) ? [i] : []));
  const problems: Problem[] = [];
  const list = starts.length === 0 ? names(plain, file, problems) : verilog();
  problems.push(...doubles(list.ports));
  if (list.ports.length === 0 && problems.length === 0)
    problems.push({
      code: 'no-ports',
      message: 'the list has no port',
      mend: 'names one a line, or a Verilog module with its ports',
      place: { file, line: 1, column: 1 },
    });
  return problems.length > 0 ? failed(...problems) : found(list);

  function verilog(): PortList {
    problems.push(...unread);
    const [first = 0, second] = starts;
    const name = tokens[first + 1];
    const other = second === undefined ? undefined : tokens[second + 1];
    if (other)
      problems.push({
        code: 'several-modules',
        message: `the file has several modules, ${name?.text ?? ''} and ${other.text} among them`,
        mend: 'name a file that holds the chip and no other module',
        place: other.place,
      });
    const end = tokens.findIndex((token, i) => i > first && isWord(token, 'endmodule'));
    const body = tokens.slice(first + 1, end < 0 ? (second ?? tokens.length) : end);
    const headerEnd = body.find((token) => token.kind === 'sign' && token.text === ';');
    const inside = conditionals.find(
      (place) => name && after(place, name.place) && headerEnd && after(headerEnd.place, place),
    );
    if (inside)
      problems.push({
        code: 'conditional-ports',
        message: 'a directive decides which ports there are',
        mend: 'name the file that the preprocessor makes of it',
        place: inside,
      });
    return { module: name?.text ?? null, ports: modulePorts(body, problems) };
  }
}

/** In a plain list a pin may be named `module`; a module's name is followed by its ports, parameters or nothing. */
const startsModule = (token: Token, behindName: Token | undefined): boolean =>
  (isWord(token, 'module') || isWord(token, 'macromodule')) &&
  ['(', '#', ';'].includes(behindName?.text ?? '');

const isWord = (token: Token, word: string): boolean => token.kind === 'name' && token.text === word;
const after = (a: Place, b: Place): boolean => a.line > b.line || (a.line === b.line && a.column > b.column);

const WORD = /\/\/[^\n]*|(?<![^\s,;])#[^\n]*|[^\s,;]+/gu;
const VECTOR = /^(?<base>.+)\[(?<first>\d{1,9}):(?<last>\d{1,9})\]$/u;

/** Names as they stand; in a list without a module nothing else can be meant. */
function names(text: string, file: string, problems: Problem[]): PortList {
  const places = placesIn(text, file);
  const ports: Port[] = [];
  for (const { 0: word, index } of withoutBlocks(text).matchAll(WORD)) {
    if (word.startsWith('#') || word.startsWith('//')) continue;
    const place = places(index);
    const groups = VECTOR.exec(word)?.groups;
    const [high, low] = [Number(groups?.first ?? 0), Number(groups?.last ?? 0)].sort((a, b) => b - a);
    if (word.length > 200 || (high ?? 0) - (low ?? 0) + ports.length >= MOST_PORTS) {
      problems.push({
        code: 'port-name',
        message: `"${word.slice(0, 40)}" is no name of a port, or the list too long`,
        mend: `names one a line, or a Verilog module with its ports, ${MOST_PORTS} at most`,
        place,
      });
      break;
    }
    if (groups)
      for (let bit = high ?? 0; bit >= (low ?? 0); bit--)
        ports.push({ name: `${groups.base}[${bit}]`, direction: null, place });
    else ports.push({ name: word, direction: null, place });
  }
  return { module: null, ports };
}

/** Comments of several lines as blanks, so that what stays keeps its place. */
function withoutBlocks(text: string): string {
  const parts: string[] = [];
  let at = 0;
  for (let start = text.indexOf('/*'); start >= 0; start = text.indexOf('/*', at)) {
    const end = text.indexOf('*/', start + 2);
    if (end < 0) break;
    parts.push(text.slice(at, start), text.slice(start, end + 2).replaceAll(/[^\n]/gu, ' '));
    at = end + 2;
  }
  return parts.join('') + text.slice(at);
}

/** Told one by one up to this many. */
const TOLD = 100;

function doubles(ports: readonly Port[]): readonly Problem[] {
  const first = new Map<string, Port>();
  const all = ports.flatMap((port): readonly Problem[] => {
    const before = first.get(port.name);
    if (!before) {
      first.set(port.name, port);
      return [];
    }
    return [
      {
        code: 'double-port',
        message: `port ${port.name} stands in the list a second time`,
        mend: `the first is at line ${before.place.line}, column ${before.place.column}`,
        place: port.place,
      },
    ];
  });
  if (all.length <= TOLD) return all;
  const more = {
    code: 'double-port',
    message: `${all.length - TOLD} more ports stand in the list a second time`,
  };
  return [...all.slice(0, TOLD), more];
}

export interface PortComparison {
  readonly portsWithoutPin: readonly { readonly port: Port; readonly nearest: string | null }[];
  readonly pinsWithoutPort: readonly {
    readonly pin: string;
    readonly net: string | null;
    /** Supplies are often no ports of the chip's module. */
    readonly kind: 'supply' | 'ground' | 'signal';
  }[];
}

/** A port answers to the pin of its name, or to every pin on the net of its name. */
export function comparePorts({ ports }: PortList, placement: Placement): PortComparison {
  const nets = new Map(placement.bondPads.map((pad) => [pad.pin, pad.net]));
  const kinds = new Map(placement.nets.map((net) => [net.name, net.kind]));
  const pins = [
    ...new Set([
      ...placement.cells.flatMap((cell) => cell.pins ?? []),
      ...placement.bondPads.map((pad) => pad.pin),
    ]),
  ];
  const listed = new Set(ports.map((port) => port.name));
  const answered = new Set([...pins, ...nets.values()]);
  const open = pins.filter((pin) => !listed.has(pin) && !listed.has(nets.get(pin) ?? pin));
  return {
    portsWithoutPin: ports
      .filter((port) => !answered.has(port.name))
      .map((port) => ({ port, nearest: nearest(port.name, open) ?? null })),
    pinsWithoutPort: open.map((pin) => {
      const net = nets.get(pin) ?? null;
      return { pin, net, kind: kinds.get(net ?? pin) ?? 'signal' };
    }),
  };
}

/** Both lists as lines for a terminal. */
export function portsText({ portsWithoutPin, pinsWithoutPort }: PortComparison): string {
  const ports = portsWithoutPin.map(({ port, nearest: near }) => {
    const { file, line, column } = port.place;
    const guess = near === null ? '' : `; a pin without a port is ${near}`;
    return `${file}:${line}:${column}: port ${port.name} has no pin${guess}\n`;
  });
  const pins = pinsWithoutPort.map(({ pin, net, kind }) => {
    const on = net === null || net === pin ? '' : ` on net ${net}`;
    return `pin ${pin}${on} has no port${kind === 'signal' ? '' : ` (${kind})`}\n`;
  });
  return ports.length + pins.length === 0
    ? 'every port has a pin and every pin a port\n'
    : [...ports, ...pins].join('');
}
