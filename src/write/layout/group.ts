/** The members of a list by a key, keys in the order of their first member. */
export function groupBy<T, K>(list: Iterable<T>, keyOf: (member: T) => K): ReadonlyMap<K, readonly T[]> {
  const groups = new Map<K, T[]>();
  for (const member of list) {
    const key = keyOf(member);
    const group = groups.get(key);
    if (group) group.push(member);
    else groups.set(key, [member]);
  }
  return groups;
}
