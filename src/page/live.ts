/** The page's side of `ringwright view`: told of each change, it fetches what the ring has become. */
import type { Payload } from './payload.ts';

/** `apply` takes each state; `lost` is told whether the program still answers. */
export function followLive(apply: (payload: Payload) => void, lost: (gone: boolean) => void): void {
  let [known, busy, again] = [-1, false, false];
  const fetchNow = async (): Promise<void> => {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    do {
      again = false;
      try {
        const answer = await fetch('ring', { cache: 'no-store' });
        if (!answer.ok) throw new Error(String(answer.status));
        const payload = (await answer.json()) as Payload;
        lost(false);
        if (payload.version !== known) apply(payload);
        known = payload.version;
      } catch {
        lost(true);
      }
    } while (again);
    busy = false;
  };
  const events = new EventSource('events');
  events.addEventListener('open', () => void fetchNow());
  events.addEventListener('message', () => void fetchNow());
  events.addEventListener('error', () => {
    // A program that is started anew counts anew.
    known = -1;
    lost(true);
  });
}
