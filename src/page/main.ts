/** The page's entry: takes the ring that the file carries, or follows the program that serves it. */
import type { Placement } from '../format/placement.ts';
import { startApp } from './app.ts';
import { part } from './dom.ts';
import { followLive } from './live.ts';
import { showProblems } from './problems.ts';
import { themeButton } from './theme.ts';

themeButton();
const app = startApp();
const carriedText = document.getElementById('placement')?.textContent;

if (carriedText) {
  // The file's own writer checked it.
  app.setRing(JSON.parse(carriedText) as Placement);
} else {
  const home = part('ring', SVGGElement);
  const lost = part('lost', HTMLElement);
  followLive(
    (payload) => {
      showProblems(payload);
      part('empty', HTMLElement).hidden = payload.ring !== null;
      if (payload.ring === null) return;
      const { documentElement } = new DOMParser().parseFromString(payload.ring.drawing, 'image/svg+xml');
      home.replaceChildren(...[...documentElement.children].map((child) => document.importNode(child, true)));
      app.setRing(payload.ring.placement);
    },
    (gone) => {
      lost.hidden = !gone;
    },
  );
}
