/** Lanes that a cell joins: groups that share a lane are one group. */

/** Groups without overlap, lanes in a given order, groups of one left out. */
export function joinedGroups(
  groups: readonly (readonly string[])[],
  order: readonly string[],
): readonly (readonly string[])[] {
  let done: (readonly string[])[] = [];
  for (const group of groups) {
    const touching = done.filter((one) => one.some((lane) => group.includes(lane)));
    const whole = [...new Set([...touching.flat(), ...group])];
    done = [...done.filter((one) => !touching.includes(one)), whole];
  }
  const rank = (lane: string): number => order.indexOf(lane);
  return done
    .filter((group) => group.length > 1)
    .map((group) => group.toSorted((a, b) => rank(a) - rank(b)))
    .toSorted((a, b) => rank(a[0] ?? '') - rank(b[0] ?? ''));
}

/** All lanes joined to any of some, those included, in a given order. */
export function withTied(
  lanes: readonly string[],
  groups: readonly (readonly string[])[],
  order: readonly string[],
): readonly string[] {
  const all = new Set(lanes);
  for (const group of groups)
    if (group.some((lane) => all.has(lane))) for (const lane of group) all.add(lane);
  return order.filter((lane) => all.has(lane));
}
