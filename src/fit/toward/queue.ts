/** A queue that gives the least key first, and of equal keys the one put in first. */
export interface Queue<T> {
  readonly put: (key: number, item: T) => void;
  readonly take: () => T | undefined;
}

interface Held<T> {
  readonly key: number;
  readonly order: number;
  readonly item: T;
}

export function queueOf<T>(): Queue<T> {
  const heap: Held<T>[] = [];
  let order = 0;
  const before = (a: Held<T> | undefined, b: Held<T> | undefined): boolean =>
    a !== undefined && b !== undefined && (a.key < b.key || (a.key === b.key && a.order < b.order));
  const swap = (i: number, j: number): void => {
    const [a, b] = [heap[i], heap[j]];
    if (a !== undefined && b !== undefined) [heap[i], heap[j]] = [b, a];
  };
  return {
    put: (key, item) => {
      heap.push({ key, order: order++, item });
      for (let i = heap.length - 1; i > 0 && before(heap[i], heap[(i - 1) >> 1]); i = (i - 1) >> 1)
        swap(i, (i - 1) >> 1);
    },
    take: () => {
      const top = heap[0];
      const last = heap.pop();
      if (top === undefined || last === undefined) return undefined;
      if (heap.length > 0) {
        heap[0] = last;
        for (let i = 0; ; ) {
          const [left, right] = [2 * i + 1, 2 * i + 2];
          const child = before(heap[right], heap[left]) ? right : left;
          if (!before(heap[child], heap[i])) break;
          swap(i, child);
          i = child;
        }
      }
      return top.item;
    },
  };
}
