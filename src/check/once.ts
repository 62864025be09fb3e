/** Keeps what several rules derive from one view with that view, so that it is derived once. */
import type { View } from './view.ts';

/** What has been derived from a view, by what derived it. */
export type Derived = Map<symbol, unknown>;

export function once<T>(derive: (view: View) => T): (view: View) => T {
  const key = Symbol();
  return (view) => {
    // Only this closure writes under its key, and what it writes is a T.
    if (view.derived.has(key)) return view.derived.get(key) as T;
    const value = derive(view);
    view.derived.set(key, value);
    return value;
  };
}
