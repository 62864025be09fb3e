/**
 * Names that a hand-off format can bear. Each format has its own alphabet; a name inside it stays as it is, any
 * other has its foreign characters replaced by `_`, and two names never become one.
 */
import type { Placement } from '../../format/placement.ts';

/**
 * One legal name for each name of a list, in its order, all different and none of those already taken. Names that
 * are legal as they stand have the first claim; a clash is told apart by `_2`, `_3`.
 */
export function legalNames(
  names: readonly string[],
  foreign: RegExp,
  taken: Iterable<string> = [],
): readonly string[] {
  const used = new Set(taken);
  const result: (string | undefined)[] = names.map((name) => {
    if (name.replaceAll(foreign, '_') !== name || used.has(name)) return undefined;
    used.add(name);
    return name;
  });
  return result.map((kept, index) => {
    if (kept !== undefined) return kept;
    const stem = (names[index] ?? '').replaceAll(foreign, '_');
    let name = stem;
    for (let k = 2; used.has(name); k++) name = `${stem}_${k}`;
    used.add(name);
    return name;
  });
}

/** The same for a set of names that are told apart already, as a lookup. */
export function legalByName(
  names: Iterable<string>,
  foreign: RegExp,
  taken: Iterable<string> = [],
): ReadonlyMap<string, string> {
  const list = [...new Set(names)];
  const legal = legalNames(list, foreign, taken);
  return new Map(list.map((name, index) => [name, legal[index] ?? name]));
}

/** The names of each cell's own pins, those of its landings and of its signals toward the core, by cell. */
export function terminalNames(
  { cells, footprints }: Placement,
  foreign: RegExp,
): ReadonlyMap<string, ReadonlyMap<string, string>> {
  const own = new Map(
    footprints.map(({ name, landings, signals = [] }) => [
      name,
      legalByName(
        [...landings, ...signals].map((one) => one.name),
        foreign,
      ),
    ]),
  );
  const none: ReadonlyMap<string, string> = new Map();
  return new Map(cells.map((cell) => [cell.name, own.get(cell.footprint) ?? none]));
}

/** Whatever is not printable ASCII, blanks included. */
export const NOT_PRINTABLE = /[^!-~]/gu;

/** One bit of a vector port, or a scalar port, where `bit` is null. */
export interface PortBit {
  readonly port: string;
  readonly bit: number | null;
}

/** A port of a module, with the range of its bits or null. */
export interface Port {
  readonly name: string;
  readonly range: { readonly high: number; readonly low: number } | null;
}

export interface Ports {
  /** In the order in which the first bit of each came. */
  readonly ports: readonly Port[];
  readonly bitOf: ReadonlyMap<string, PortBit>;
}

const INDEXED = /^(?<base>.+)\[(?<bit>0|[1-9]\d{0,5})\]$/u;

/** `data[3]` as its base and bit; null where a name has no index. */
export function bitOfName(name: string): { readonly base: string; readonly bit: number } | null {
  const groups = INDEXED.exec(name)?.groups;
  return groups?.base === undefined ? null : { base: groups.base, bit: Number(groups.bit) };
}

/**
 * Names such as `data[0]` to `data[7]` taken together as one vector, as a Verilog header and a bus of DEF have it.
 * A vector stands only where its bits have no hole and nothing else bears its name; otherwise each stays a scalar.
 */
export function gatherBits(names: Iterable<string>): Ports {
  const list = [...new Set(names)];
  const whole = new Set(list);
  const bits = new Map<string, number[]>();
  for (const name of list) {
    const indexed = bitOfName(name);
    if (indexed) bits.set(indexed.base, [...(bits.get(indexed.base) ?? []), indexed.bit]);
  }
  const ranges = new Map<string, { high: number; low: number }>();
  for (const [base, members] of bits) {
    const low = members.reduce((least, bit) => Math.min(least, bit));
    const high = members.reduce((most, bit) => Math.max(most, bit));
    if (high - low + 1 === members.length && !whole.has(base)) ranges.set(base, { high, low });
  }
  const ports = new Map<string, Port>();
  const bitOf = new Map<string, PortBit>();
  for (const name of list) {
    const indexed = bitOfName(name);
    const range = indexed ? ranges.get(indexed.base) : undefined;
    const port = indexed && range ? { name: indexed.base, range } : { name, range: null };
    if (!ports.has(port.name)) ports.set(port.name, port);
    bitOf.set(name, { port: port.name, bit: indexed && range ? indexed.bit : null });
  }
  return { ports: [...ports.values()], bitOf };
}
