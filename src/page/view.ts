/**
 * Zoom and pan. The Panzoom library moves the sheet by the pointer; this says where the die then stands on the
 * screen, moves it to places, and remembers where it was.
 */
import Panzoom from '@panzoom/panzoom';
import { inBox } from './dom.ts';
import type { Box, Dot, Frame } from './geometry.ts';

/** Where the die stands on the drawing's sheet, as its own transform says: scale and place of the die's origin. */
export interface Base {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Room that the names around the die take, in pixels, in a box of a size. */
export type RoomFor = (box: Size) => { readonly beside: number; readonly above: number };

export interface View {
  readonly frame: () => Frame;
  readonly size: () => Size;
  readonly toDie: (at: Dot) => Dot;
  /** Takes another drawing: the same stretch of the die stays in sight, or the whole of it. */
  readonly setBase: (base: Base, die: Size, roomFor: RoomFor) => void;
  /** The whole ring; a place with room around it; a factor about a point of the box; by pixels. */
  readonly whole: () => void;
  readonly show: (box: Box, least: number) => void;
  readonly zoom: (factor: number, about?: Dot) => void;
  readonly pan: (dx: number, dy: number) => void;
  /** To where it was before the last move to a place. */
  readonly back: () => void;
  readonly canGoBack: () => boolean;
}

/** Times closer than the whole ring. */
const CLOSEST = 400;
const FARTHEST = 0.4;
const GLIDE = 240;
const REMEMBERED = 50;

const inside = (frame: Frame, at: Dot): Dot => ({
  x: (at.x - frame.left) / frame.k,
  y: (frame.top - at.y) / frame.k,
});

export function viewOf(box: HTMLElement, world: SVGGElement, changed: () => void): View {
  let base: Base = { scale: 1, x: 0, y: 0 };
  let die = { width: 1, height: 1 };
  let roomFor: RoomFor = () => ({ beside: 60, above: 60 });
  let size = { width: box.clientWidth, height: box.clientHeight };
  let atWhole = true;
  let glide = 0;
  const history: Frame[] = [];

  const zoomer = Panzoom(world, {
    canvas: true,
    cursor: 'grab',
    minScale: 1e-6,
    maxScale: 1e9,
    // The library's own handler would keep the drawing from taking the focus.
    handleStartEvent: () => {},
  });

  const frame = (): Frame => {
    const [scale, { x, y }] = [zoomer.getScale(), zoomer.getPan()];
    return { k: scale * base.scale, left: scale * (base.x + x), top: scale * (base.y + y) };
  };

  const put = ({ k, left, top }: Frame): void => {
    const scale = k / base.scale;
    const [x, y] = [left / scale - base.x, top / scale - base.y];
    zoomer.setOptions({ startScale: scale, startX: x, startY: y });
    zoomer.zoom(scale, { animate: false, force: true, silent: true });
    zoomer.pan(x, y, { animate: false, force: true, silent: true });
    requestAnimationFrame(changed);
  };

  const wholeFrame = (): Frame => {
    const room = roomFor(size);
    const [width, height] = [size.width - 2 * room.beside, size.height - 2 * room.above];
    const k = Math.max(1e-6, Math.min(Math.max(width, 60) / die.width, Math.max(height, 60) / die.height));
    return { k, left: (size.width - die.width * k) / 2, top: (size.height + die.height * k) / 2 };
  };

  const bounded = (k: number): number => {
    const { k: whole } = wholeFrame();
    return Math.min(Math.max(k, whole * FARTHEST), whole * CLOSEST);
  };

  /** Moves there in a short while, so that the eye can follow; at once for those who do not want motion. */
  const move = (to: Frame): void => {
    cancelAnimationFrame(glide);
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      put(to);
      return;
    }
    const from = frame();
    const middle = { x: size.width / 2, y: size.height / 2 };
    const [a, b] = [inside(from, middle), inside(to, middle)];
    const start = performance.now();
    const step = (now: number): void => {
      const share = Math.min(1, Math.max(0, (now - start) / GLIDE));
      const eased = share * share * (3 - 2 * share);
      if (share === 1) {
        put(to);
        return;
      }
      const k = from.k * (to.k / from.k) ** eased;
      // So that the middle goes evenly over the screen while the scale grows evenly in its own way.
      const way = Math.abs(to.k / from.k - 1) < 1e-6 ? eased : (1 - from.k / k) / (1 - from.k / to.k);
      const [x, y] = [a.x + (b.x - a.x) * way, a.y + (b.y - a.y) * way];
      put({ k, left: middle.x - k * x, top: middle.y + k * y });
      glide = requestAnimationFrame(step);
    };
    glide = requestAnimationFrame(step);
  };

  const remember = (): void => {
    history.push(frame());
    if (history.length > REMEMBERED) history.shift();
  };

  const zoom = (factor: number, about: Dot = { x: size.width / 2, y: size.height / 2 }): void => {
    cancelAnimationFrame(glide);
    atWhole = false;
    const from = frame();
    const k = bounded(from.k * factor);
    const at = inside(from, about);
    put({ k, left: about.x - k * at.x, top: about.y + k * at.y });
  };

  const fingers = new Map<number, Dot>();
  const note = (event: PointerEvent): void => {
    fingers.set(event.pointerId, inBox(box, event));
  };
  const forget = ({ pointerId }: PointerEvent): void => {
    fingers.delete(pointerId);
  };
  box.addEventListener('pointerdown', note, { capture: true });
  box.addEventListener('pointermove', (event) => {
    if (fingers.has(event.pointerId)) note(event);
  });
  for (const end of ['pointerup', 'pointercancel'] as const) document.addEventListener(end, forget);
  box.addEventListener(
    'pointerdown',
    (event) => {
      if (event.button === 2) event.stopPropagation();
    },
    { capture: true },
  );
  world.addEventListener('panzoomchange', changed);
  world.addEventListener('panzoomstart', () => {
    cancelAnimationFrame(glide);
    // Pinching: for each pixel that the fingers part the library adds a step over 80; this one makes that a ratio.
    const [a, b] = [...fingers.values()];
    if (a !== undefined && b !== undefined)
      zoomer.setOptions({ step: (zoomer.getScale() * 80) / Math.max(1, Math.hypot(a.x - b.x, a.y - b.y)) });
  });
  world.addEventListener('panzoompan', () => {
    atWhole = false;
  });
  box.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      const amount = Math.max(-240, Math.min(240, (event.deltaY || event.deltaX) * lines));
      zoom(Math.exp(-amount * 0.0022), inBox(box, event));
    },
    { passive: false },
  );
  new ResizeObserver(() => {
    const before = inside(frame(), { x: size.width / 2, y: size.height / 2 });
    size = { width: box.clientWidth, height: box.clientHeight };
    if (size.width === 0 || size.height === 0) return;
    if (atWhole) return put(wholeFrame());
    const { k } = frame();
    put({ k, left: size.width / 2 - k * before.x, top: size.height / 2 + k * before.y });
  }).observe(box);

  return {
    frame,
    size: () => size,
    toDie: (at) => inside(frame(), at),
    setBase(next, nextDie, nextRoomFor) {
      const before = frame();
      base = next;
      die = nextDie;
      roomFor = nextRoomFor;
      put(atWhole ? wholeFrame() : before);
    },
    whole() {
      if (!atWhole) remember();
      atWhole = true;
      move(wholeFrame());
    },
    show(target, least) {
      remember();
      atWhole = false;
      const room = roomFor(size);
      const [width, height] = [Math.max(target.width, least), Math.max(target.height, least)];
      const [w, h] = [size.width - 1.2 * room.beside, size.height - 1.2 * room.above];
      const k = bounded(Math.min(Math.max(w, 80) / width, Math.max(h, 80) / height));
      const [x, y] = [target.x + target.width / 2, target.y + target.height / 2];
      move({ k, left: size.width / 2 - k * x, top: size.height / 2 + k * y });
    },
    zoom,
    pan(dx, dy) {
      cancelAnimationFrame(glide);
      atWhole = false;
      const { k, left, top } = frame();
      put({ k, left: left + dx, top: top + dy });
    },
    back() {
      const before = history.pop();
      if (before === undefined) return;
      const whole = wholeFrame();
      atWhole = Math.abs(before.k / whole.k - 1) < 1e-9 && Math.abs(before.left - whole.left) < 0.01;
      move(before);
    },
    canGoBack: () => history.length > 0,
  };
}
