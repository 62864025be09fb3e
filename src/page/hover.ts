/** What the pointer does over the drawing: it tells what is below it, chooses, and takes the ends of a measure. */
import type { Core } from './core.ts';
import { el, part } from './dom.ts';
import { snapWithin, takeEnd } from './ends.ts';
import type { Dot } from './geometry.ts';
import { hintOf } from './hint.ts';
import { findingMarks, MARK } from './over.ts';
import { listenToPointer } from './pointer.ts';
import { snapName } from './snap.ts';
import { same, type Thing } from './thing.ts';
import { under } from './under.ts';

/** How near the pointer has to come to an edge, in pixels: by a mouse, by a finger. */
const REACH = { fine: 14, coarse: 26 } as const;

export function followPointer(core: Core, box: HTMLElement): void {
  const { view, state, change, say } = core;
  const place = part('place', HTMLOutputElement);
  const chip = part('chip', HTMLElement);

  /** A few lines beside the pointer, within the box. */
  const showChip = (at: Dot | undefined, lines: readonly HTMLElement[]): void => {
    chip.hidden = at === undefined || lines.length === 0;
    if (at === undefined || chip.hidden) return;
    chip.replaceChildren(...lines);
    const { width, height } = view.size();
    const [w, h] = [chip.offsetWidth, chip.offsetHeight];
    chip.style.left = `${at.x + 18 + w > width ? Math.max(0, at.x - 12 - w) : at.x + 18}px`;
    chip.style.top = `${at.y + 14 + h > height ? Math.max(0, at.y - 8 - h) : at.y + 14}px`;
  };

  listenToPointer(box, {
    over(at) {
      const dot = at && view.toDie(at);
      place.textContent = dot === undefined ? '' : `x ${dot.x.toFixed(1)}  y ${dot.y.toFixed(1)} µm`;
      if (state().measures) {
        const snap = at && snapWithin(core, at, REACH.fine);
        change({ snap, hovered: undefined });
        showChip(at, snap === undefined ? [] : [el('strong', {}, snapName(snap))]);
        return;
      }
      const things = at === undefined ? [] : thingsAt(core, at);
      const [hovered] = things;
      if (!same(hovered, state().hovered)) change({ hovered });
      const loaded = core.loaded();
      showChip(at, loaded === undefined ? [] : hintOf(loaded.model, things));
    },
    take(at, coarse) {
      if (state().measures) {
        const snap = snapWithin(core, at, coarse ? REACH.coarse : REACH.fine);
        if (snap === undefined) say('there is no edge or centre near that place');
        else takeEnd(core, snap);
        return;
      }
      const things = thingsAt(core, at);
      // Again at one place goes on to what lies below.
      const next = things[(things.findIndex((thing) => same(thing, state().chosen)) + 1) % things.length];
      if (next === undefined) change({ chosen: undefined });
      else core.choose(next, 'stay');
    },
  });
}

/** What lies at a place of the box, findings' marks first. */
function thingsAt({ loaded, state, view }: Core, at: Dot): readonly Thing[] {
  const model = loaded()?.model;
  if (model === undefined) return [];
  const { shown } = state();
  const marks = shown.findings ? findingMarks(model, view.frame()) : [];
  const mark = marks.find((one) => Math.hypot(one.x - at.x, one.y - at.y) <= MARK + 1);
  const findings = mark?.numbers.map((number): Thing => ({ kind: 'finding', number })) ?? [];
  return [...findings, ...under(model, shown, view.toDie(at))];
}
