/** The pointer over the drawing: where it is, and clicks that were no drags. */
import { inBox } from './dom.ts';
import type { Dot } from './geometry.ts';

export interface PointerActs {
  /** The pointer hovers at a place of the box in pixels, or has left it. */
  readonly over: (at: Dot | undefined) => void;
  /** Chosen there; `coarse` by a finger. */
  readonly take: (at: Dot, coarse: boolean) => void;
}

/** How far a press may slip and still be a click. */
const SLIP = 5;

export function listenToPointer(view: HTMLElement, acts: PointerActs): void {
  let pressed: { readonly at: Dot; readonly id: number } | undefined;
  let waiting: Dot | undefined;
  let asked = false;
  const within = (event: PointerEvent): Dot => inBox(view, event);
  // Once a frame is enough.
  const tell = (at: Dot | undefined): void => {
    waiting = at;
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      acts.over(waiting);
    });
  };
  view.addEventListener('pointerdown', (event) => {
    pressed =
      event.button === 0 && pressed === undefined ? { at: within(event), id: event.pointerId } : undefined;
  });
  view.addEventListener('pointermove', (event) => {
    if (event.pointerType === 'touch') return;
    tell(event.buttons === 0 ? within(event) : undefined);
  });
  view.addEventListener('pointerleave', () => tell(undefined));
  view.addEventListener('pointercancel', () => {
    pressed = undefined;
  });
  view.addEventListener('pointerup', (event) => {
    const start = pressed;
    pressed = undefined;
    if (start === undefined || start.id !== event.pointerId) return;
    const at = within(event);
    if (Math.hypot(at.x - start.at.x, at.y - start.at.y) <= SLIP)
      acts.take(at, event.pointerType === 'touch');
  });
}
