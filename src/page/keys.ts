/** The drawing by keyboard alone, while it has the focus. */

export interface KeyActs {
  readonly pan: (dx: number, dy: number) => void;
  readonly zoom: (factor: number) => void;
  readonly whole: () => void;
  readonly back: () => void;
  readonly nextPad: (step: 1 | -1) => void;
  readonly nextFinding: () => void;
  readonly zoomToChosen: () => void;
  readonly lightNet: () => void;
  readonly lightSection: () => void;
  readonly measureChosen: () => void;
  readonly letGo: () => void;
}

const STEP = 60;
const ZOOM = 1.4;

export function listenToKeys(view: HTMLElement, acts: KeyActs): void {
  const known: Readonly<Record<string, () => void>> = {
    ArrowLeft: () => acts.pan(STEP, 0),
    ArrowRight: () => acts.pan(-STEP, 0),
    ArrowUp: () => acts.pan(0, STEP),
    ArrowDown: () => acts.pan(0, -STEP),
    '+': () => acts.zoom(ZOOM),
    '=': () => acts.zoom(ZOOM),
    '-': () => acts.zoom(1 / ZOOM),
    '0': acts.whole,
    b: acts.back,
    n: () => acts.nextPad(1),
    p: () => acts.nextPad(-1),
    f: acts.nextFinding,
    Enter: acts.zoomToChosen,
    l: acts.lightNet,
    s: acts.lightSection,
    m: acts.measureChosen,
    Escape: acts.letGo,
  };
  view.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target !== view) return;
    const act = known[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (act === undefined) return;
    event.preventDefault();
    act();
  });
}
