/**
 * Shows that the three demonstrations can be bonded: in packages with enough fingers no wire crosses another and no
 * limit is broken, and with the pin list shuffled the findings name the crossing pairs. Source: 48 pads in 64 leads of
 * 0.5 mm pitch on a body of 10 mm as JEDEC MS-026 has it, from memory; 128 and 208 leads for the others.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Spot } from '../../src/bond/frame.ts';
import { wireRules } from '../../src/bond/rules.ts';
import { type StrungWire, stringWires } from '../../src/bond/string.ts';
import type { Placement } from '../../src/format/placement.ts';
import { SIDES } from '../../src/geometry/side.ts';
import { failed, found, type Outcome } from '../../src/problems/problem.ts';
import { allRules, findingsOf, isSound, lay } from '../../src/run.ts';
import { readRing } from '../../src/spec/read.ts';
import type { Entry, Ring, Slack } from '../../src/spec/ring.ts';

const readFile = (path: string): Outcome<string> =>
  existsSync(path) ? found(readFileSync(path, 'utf8')) : failed({ code: 'no-file', message: `no ${path}` });

function ringOf(name: string): Ring {
  const outcome = readRing(readFile, `fixtures/${name}/ring.yaml`, allRules);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
}

function laid(ring: Ring): Placement {
  const outcome = lay(ring);
  if (!outcome.ok) throw new Error(outcome.problems.map((p) => p.message).join('\n'));
  return outcome.value;
}

function withSlack(ring: Ring, slack: Slack): Ring {
  const of = (side: (typeof SIDES)[number]) => ({ ...ring.sides[side], slack });
  return { ...ring, sides: { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') } };
}

const WIRE_RULES = new Set(wireRules.map((rule) => rule.name));
const onWires = (placement: Placement): readonly string[] =>
  placement.findings.filter((f) => WIRE_RULES.has(f.rule)).map((f) => f.message);

describe.each([
  ['tide-gauge', 48, 64],
  ['frost-hub', 120, 128],
  ['lamp-controller', 200, 208],
] as const)('%s', (name, pads, fingers) => {
  const ring = ringOf(name);

  it(`bonds ${pads} pads to ${fingers} fingers without a crossing or any other finding on wires`, () => {
    for (const slack of ['shared', 'toward-fingers'] as const) {
      const placement = laid(withSlack(ring, slack));
      const { wires } = placement.summary;
      expect(placement.package?.fingers.length).toBe(fingers);
      expect(wires?.count).toBe(pads);
      expect(onWires(placement)).toEqual([]);
      expect(isSound(placement)).toBe(true);
      expect(wires?.crossings).toBe(0);
      // The summary's worst angle and length are the worst of the wires.
      const strung = stringWires(placement);
      expect(wires?.angle).toBeCloseTo(Math.max(...strung.map((wire) => wire.angle)), 2);
      expect(wires?.length).toBeCloseTo(Math.max(...strung.map((wire) => wire.length)), 2);
      expect(wires?.angle).toBeLessThan(35);
    }
  });

  it('gets no less straight by letting the slack go toward the fingers', () => {
    const { wires } = laid(withSlack(ring, 'toward-fingers')).summary;
    expect(wires?.towardFingers.map((t) => t.side)).toEqual([...SIDES]);
    for (const { shared, placed, proven } of wires?.towardFingers ?? []) {
      expect(placed).toBeLessThanOrEqual(shared);
      expect(proven).toBe(true);
    }
  });

  it('with the pin list shuffled, names the pairs that cross', () => {
    const before = laid(ring);
    const after = laid(shuffled(ring));
    if (before.package === undefined || after.package === undefined) throw new Error('no package');
    // Every pin keeps the finger that it had; of several pads of one name, the first keeps the first's.
    const fingers = new Map<string, (string | null)[]>();
    for (const { pin, number } of before.bondPads) {
      const bond = before.package.bonds.find(({ bondPad }) => bondPad === number);
      fingers.set(pin, [...(fingers.get(pin) ?? []), bond?.finger ?? null]);
    }
    const bonds = after.bondPads.map(({ number, pin }) => ({
      bondPad: number,
      finger: fingers.get(pin)?.shift() ?? null,
    }));
    const placement = { ...after, package: { ...after.package, bonds } };
    const told = findingsOf(placement)
      .filter((f) => f.rule === 'wires-cross' || f.rule === 'wires-cross-above')
      .map((f) => f.items.toSorted().join(' '));
    const wires = stringWires(placement);
    const crossing = wires.flatMap((a, k) =>
      wires.slice(k + 1).flatMap((b) => (cross(a, b) ? [[a.pin, b.pin].toSorted().join(' ')] : [])),
    );
    expect(told.toSorted()).toEqual(crossing.toSorted());
    expect(told.length).toBeGreaterThan(20);
    expect(isSound({ ...placement, findings: findingsOf(placement) })).toBe(false);
  });
});

/** Each side's cells of one kind and section in reversed order: the ring itself stays as sound as it was. */
function shuffled(ring: Ring): Ring {
  const of = (side: (typeof SIDES)[number]) => {
    const { entries } = ring.sides[side];
    const key = (entry: Entry): string =>
      entry.pins.length === 1 ? `${entry.footprint.name} ${entry.section} ${entry.row}` : 'stays';
    const groups = groupsOf(entries, key);
    return {
      ...ring.sides[side],
      entries: entries.map((entry) =>
        key(entry) === 'stays' ? entry : (groups.get(key(entry))?.pop() ?? entry),
      ),
    };
  };
  const sides = { left: of('left'), bottom: of('bottom'), right: of('right'), top: of('top') };
  return { ...ring, neighbours: [], sides };
}

/** Whether two wires cross, by the signs of four areas. */
function cross({ from: a, to: b }: StrungWire, { from: c, to: d }: StrungWire): boolean {
  const area = (p: Spot, q: Spot, r: Spot): number => (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  return area(a, b, c) * area(a, b, d) < 0 && area(c, d, a) * area(c, d, b) < 0;
}

function groupsOf<T>(list: readonly T[], key: (item: T) => string): ReadonlyMap<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of list) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return groups;
}
