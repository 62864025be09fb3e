/** The tabs of the lists: one at a time on the screen, all of them on paper. Each is filled when it is first seen. */
import { part } from './dom.ts';

export const TABS = ['pads', 'supplies', 'rails', 'findings', 'figures', 'measure', 'legend'] as const;
export type Tab = (typeof TABS)[number];

/** How each tab is filled; the legend's stands in the page's frame. */
export type Contents = Readonly<Record<Exclude<Tab, 'legend'>, () => Node>>;

export interface Tabs {
  readonly open: (tab: Tab) => void;
  /** Says how each tab is filled from now on, and fills those that have been seen. */
  readonly setContents: (contents: Contents) => void;
  readonly count: (tab: Tab, count: number) => void;
}

export function tabsOf(filled: (panel: Element) => void): Tabs {
  const tabs = new Map(TABS.map((tab) => [tab, part(`tab-${tab}`, HTMLButtonElement)]));
  const panels = new Map(TABS.map((tab) => [tab, part(`panel-${tab}`, HTMLElement)]));
  const seen = new Set<Tab>();
  let contents: Contents | undefined;
  let current: Tab = 'pads';

  const fill = (tab: Tab): void => {
    const panel = panels.get(tab);
    if (tab === 'legend' || panel === undefined || contents === undefined) return;
    seen.add(tab);
    panel.replaceChildren(contents[tab]());
    filled(panel);
  };

  const open = (tab: Tab): void => {
    current = tab;
    for (const [name, button] of tabs) {
      button.setAttribute('aria-selected', String(name === tab));
      button.tabIndex = name === tab ? 0 : -1;
    }
    for (const [name, panel] of panels) panel.classList.toggle('closed', name !== tab);
    if (!seen.has(tab)) fill(tab);
  };

  for (const [tab, button] of tabs) {
    button.addEventListener('click', () => open(tab));
    button.addEventListener('keydown', (event) => {
      const at = TABS.indexOf(tab);
      const to = { ArrowRight: at + 1, ArrowLeft: at - 1 + TABS.length, Home: 0, End: TABS.length - 1 }[
        event.key
      ];
      const next = to === undefined ? undefined : TABS[to % TABS.length];
      if (next === undefined) return;
      event.preventDefault();
      open(next);
      tabs.get(next)?.focus();
    });
  }
  // On paper nothing can be folded out.
  const opened: HTMLDetailsElement[] = [];
  const folded = (): readonly HTMLDetailsElement[] => {
    opened.push(...document.querySelectorAll<HTMLDetailsElement>('.panels details:not([open])'));
    return opened;
  };
  addEventListener('beforeprint', () => {
    for (const tab of TABS) if (!seen.has(tab)) fill(tab);
    for (const details of folded()) details.open = true;
  });
  addEventListener('afterprint', () => {
    for (const details of opened.splice(0)) details.open = false;
  });

  return {
    open,
    setContents(next) {
      const again = [...seen];
      seen.clear();
      contents = next;
      for (const tab of again) fill(tab);
      open(current);
    },
    count(tab, count) {
      const badge = tabs.get(tab)?.querySelector('.count');
      if (badge) badge.textContent = String(count);
    },
  };
}
