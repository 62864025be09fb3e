/** Whether two values say the same as JSON, whatever the order of keys. */
export function sameData(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b))
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((item, i) => sameData(item, b[i]))
    );
  const [own, other] = [entriesOf(a), entriesOf(b)];
  return own.size === other.size && [...own].every(([key, value]) => sameData(value, other.get(key)));
}

/** What is undefined is not written. */
const entriesOf = (value: object): ReadonlyMap<string, unknown> =>
  new Map(Object.entries(value).filter(([, item]) => item !== undefined));
