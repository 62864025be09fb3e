/** Keeps what several rules derive from one view, so that it is derived once. */
import type { View } from './view.ts';

export function once<T>(derive: (view: View) => T): (view: View) => T {
  const known = new WeakMap<View, { readonly value: T }>();
  return (view) => {
    const before = known.get(view);
    if (before !== undefined) return before.value;
    const value = derive(view);
    known.set(view, { value });
    return value;
  };
}
