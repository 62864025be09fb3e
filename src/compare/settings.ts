/** What a ring was built to, against each other: rules, numbering, sections and nets value by value. */
import type { Placement } from '../format/placement.ts';

export interface Setting {
  /** Such as `rules.pads.pitch`. */
  readonly path: string;
  /** As JSON; null where there is none. */
  readonly from: string | null;
  readonly to: string | null;
}

/** A net that only one of them has comes or goes with its pins. */
export function settingsChanged(a: Placement, b: Placement): readonly Setting[] {
  const after = new Set(b.nets.map((net) => net.name));
  const shared = new Set(a.nets.map((net) => net.name).filter((name) => after.has(name)));
  const view = ({ units, numbering, rules, sections, nets }: Placement): unknown => ({
    units,
    numbering,
    rules,
    sections,
    nets: nets.filter((net) => shared.has(net.name)),
  });
  const settings: Setting[] = [];
  walk('', view(a), view(b), settings);
  return settings;
}

function walk(path: string, from: unknown, to: unknown, out: Setting[]): void {
  const [before, after] = [members(from), members(to)];
  if (before === null || after === null) {
    if (sorted(from) !== sorted(to)) out.push({ path, from: json(from), to: json(to) });
    return;
  }
  for (const key of new Set([...before.keys(), ...after.keys()]))
    walk(path === '' ? key : `${path}.${key}`, before.get(key), after.get(key), out);
}

/** An object by its keys, a list of named things by their names; anything else is a value as a whole. */
function members(value: unknown): ReadonlyMap<string, unknown> | null {
  if (value === null || typeof value !== 'object') return null;
  if (!Array.isArray(value)) return new Map(Object.entries(value));
  const names = value.map((item: unknown) => nameOf(item));
  const named = names.every((name) => name !== null) && new Set(names).size === names.length;
  return named ? new Map(value.map((item: unknown) => [nameOf(item) ?? '', item])) : null;
}

function nameOf(item: unknown): string | null {
  return item !== null && typeof item === 'object' && 'name' in item && typeof item.name === 'string'
    ? item.name
    : null;
}

const json = (value: unknown): string | null => (value === undefined ? null : JSON.stringify(value));

/** A text that two values share exactly if they say the same, whatever the order of keys and lists. */
function sorted(value: unknown): string {
  if (value === undefined) return '';
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(sorted).sort().join()}]`;
  const entries = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}:${sorted(item)}`);
  return `{${entries.sort().join()}}`;
}

export function footprintsChanged(
  a: Placement,
  b: Placement,
): {
  readonly added: readonly string[];
  readonly removed: readonly string[];
  readonly changed: readonly string[];
} {
  const before = new Map(a.footprints.map((footprint) => [footprint.name, sorted(footprint)]));
  const after = new Map(b.footprints.map((footprint) => [footprint.name, sorted(footprint)]));
  return {
    added: [...after.keys()].filter((name) => !before.has(name)).sort(),
    removed: [...before.keys()].filter((name) => !after.has(name)).sort(),
    changed: [...after.keys()]
      .filter((name) => before.has(name) && before.get(name) !== after.get(name))
      .sort(),
  };
}

/** Fields of which two files do not say the same, in the order of their names. */
export function leftOver(a: Placement, b: Placement): readonly string[] {
  const [before, after] = [new Map(Object.entries(a)), new Map(Object.entries(b))];
  return [...new Set([...before.keys(), ...after.keys()])]
    .filter((field) => sorted(before.get(field)) !== sorted(after.get(field)))
    .sort();
}
