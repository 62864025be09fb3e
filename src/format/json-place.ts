/**
 * Where in a JSON text something stands: the first fault of a text that is none, or the value at a path. A walk with
 * a stack of its own, so that no depth of nesting can exhaust the engine's.
 */

/** A key of an object or an index of an array. */
export type Step = string | number;

export interface Fault {
  readonly offset: number;
  /** What would have been right there. */
  readonly expected: string;
}

interface Open {
  readonly isObject: boolean;
  /** The key or index of the member that is being read. */
  step: Step;
}

/** A number as JSON has it. */
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const WORD = /true|false|null/y;
const SPACE = /[ \t\n\r]*/y;

function matchAt(pattern: RegExp, text: string, offset: number): number {
  pattern.lastIndex = offset;
  return pattern.test(text) ? pattern.lastIndex : -1;
}

/** Where a text in double quotes ends; -1 where it is none. By hand: a pattern could run out of stack on a long one. */
function stringEnd(text: string, offset: number): number {
  if (text[offset] !== '"') return -1;
  let at = offset + 1;
  for (;;) {
    const code = text.charCodeAt(at);
    if (code === 0x22) return at + 1;
    if (!(code >= 0x20)) return -1;
    at = code === 0x5c ? matchAt(ESCAPE, text, at) : at + 1;
    if (at < 0) return -1;
  }
}

/**
 * Walks a text; `onValue` is told where each value begins, and stops the walk by returning true; `onKey` is told each key
 * and where it begins.
 */
function walk(
  text: string,
  onValue: (offset: number, open: readonly Open[]) => boolean,
  onKey?: (into: Open, offset: number) => void,
): Fault | null {
  const open: Open[] = [];
  let at = matchAt(SPACE, text, 0);
  const space = (): void => {
    at = matchAt(SPACE, text, at);
  };
  /** Reads a key and its colon; null where they are as they should be. */
  const key = (into: Open): Fault | null => {
    const end = stringEnd(text, at);
    if (end < 0) return { offset: at, expected: 'a key in double quotes' };
    into.step = JSON.parse(text.slice(at, end));
    onKey?.(into, at);
    at = end;
    space();
    if (text[at] !== ':') return { offset: at, expected: 'a colon after the key' };
    at++;
    space();
    return null;
  };
  for (;;) {
    if (onValue(at, open)) return null;
    const sign = text[at];
    if (sign === '{' || sign === '[') {
      const next: Open = { isObject: sign === '{', step: 0 };
      at++;
      space();
      const closing = sign === '{' ? '}' : ']';
      if (text[at] === closing) at++;
      else {
        const fault = next.isObject ? key(next) : null;
        if (fault !== null) return fault;
        open.push(next);
        continue;
      }
    } else {
      const isWord = sign === 't' || sign === 'f' || sign === 'n';
      const end = sign === '"' ? stringEnd(text, at) : matchAt(isWord ? WORD : NUMBER, text, at);
      if (end < 0)
        return { offset: at, expected: sign === '"' ? 'a text that ends in double quotes' : 'a value' };
      at = end;
    }
    for (;;) {
      space();
      const inner = open[open.length - 1];
      if (inner === undefined)
        return at === text.length ? null : { offset: at, expected: 'nothing after the value' };
      const after = text[at];
      if (after === ',') {
        at++;
        space();
        const fault = inner.isObject ? key(inner) : null;
        if (fault !== null) return fault;
        if (!inner.isObject) inner.step = Number(inner.step) + 1;
        break;
      }
      if (after !== (inner.isObject ? '}' : ']'))
        return { offset: at, expected: inner.isObject ? 'a comma or }' : 'a comma or ]' };
      at++;
      open.pop();
    }
  }
}

/** The first place at which a text stops being JSON; null where it is JSON throughout. */
export const faultIn = (text: string): Fault | null => walk(text, () => false);

/** Keys that an object has before, and where they come again, as far as `most` of them. The text must be JSON. */
export function keysAgain(
  text: string,
  most: number,
): readonly { readonly key: string; readonly offset: number }[] {
  const again: { key: string; offset: number }[] = [];
  const seen = new WeakMap<Open, Set<string>>();
  walk(
    text,
    () => again.length >= most,
    (into, offset) => {
      const key = String(into.step);
      const known = seen.get(into);
      if (known === undefined) seen.set(into, new Set([key]));
      else if (known.has(key)) again.push({ key, offset });
      else known.add(key);
    },
  );
  return again;
}

/**
 * Whether some object of a text may have a key twice, of which `JSON.parse` keeps the last: then there are more keys in
 * the text than in its value. Quick, and true too where a text within the text looks like the end of a key.
 */
export function mayHaveKeysAgain(text: string, value: object): boolean {
  let keys = 0;
  for (let at = text.indexOf(':'); at >= 0; at = text.indexOf(':', at + 1)) {
    const before = text.charCodeAt(at - 1);
    if (before === 0x22 || before <= 0x20) keys++;
  }
  return keys !== keysIn(value);
}

/** No placement is nested deeper; what is goes the long way, which takes any depth. */
const DEEPEST = 100;

/** The keys of all objects within an object or list; not a number where it is nested too deep. */
function keysIn(value: object, deep = 0): number {
  if (deep > DEEPEST) return Number.NaN;
  let keys = 0;
  if (Array.isArray(value)) {
    for (let i = 0; i < value.length; i++) {
      const inner: unknown = value[i];
      if (isObject(inner)) keys += keysIn(inner, deep + 1);
    }
    return keys;
  }
  // Plain data from JSON.parse: nothing is inherited.
  for (const key in value) {
    keys++;
    const inner: unknown = Reflect.get(value, key);
    if (isObject(inner)) keys += keysIn(inner, deep + 1);
  }
  return keys;
}

const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null;

interface Wanted {
  /** The paths that end here, by their index. */
  readonly paths: number[];
  readonly members: Map<Step, Wanted>;
}

/**
 * Where the values at some paths begin, or those of the nearest objects or lists around them; found in one walk. The
 * text must be JSON.
 */
export function offsetsOf(text: string, paths: readonly (readonly Step[])[]): readonly number[] {
  const root: Wanted = { paths: [], members: new Map() };
  paths.forEach((path, index) => {
    let here = root;
    for (const step of path) {
      const next = here.members.get(step) ?? { paths: [], members: new Map() };
      here.members.set(step, next);
      here = next;
    }
    here.paths.push(index);
  });
  const offsets = new Array<number>(paths.length).fill(0);
  /** All paths through a node begin here at the latest. */
  const settle = (node: Wanted, offset: number): void => {
    const open = [node];
    for (let next = open.pop(); next !== undefined; next = open.pop()) {
      for (const index of next.paths) offsets[index] = offset;
      open.push(...next.members.values());
    }
  };
  const trail: (Wanted | undefined)[] = [root];
  walk(text, (offset, open) => {
    const depth = open.length;
    const step = open[depth - 1]?.step;
    const node = step === undefined ? root : trail[depth - 1]?.members.get(step);
    trail.length = depth;
    trail.push(node);
    if (node !== undefined) settle(node, offset);
    return false;
  });
  return offsets;
}
