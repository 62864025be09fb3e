/** The live view as a whole: a session, a watch on its files and a server that tells the page. */
import { failed, found, type Outcome } from '../problems/problem.ts';
import type { Run } from '../run.ts';
import { livePage } from '../write/report.ts';
import { serveLive } from './server.ts';
import { openSession } from './session.ts';
import { type Pace, watchFiles } from './watch.ts';

export interface LiveView {
  readonly url: string;
  readonly stop: () => Promise<void>;
}

/** Serves a description's ring; `told` is called with each outcome, the first included. */
export async function viewLive(
  path: string,
  read: (path: string) => Outcome<string>,
  port: number,
  told: (outcome: Run) => void,
  pace?: Pace,
): Promise<Outcome<LiveView>> {
  const session = openSession(path, read);
  const server = await serveLive(port, { page: livePage(), ring: session.text, version: session.version });
  if (!server.ok) return failed(...server.problems);
  const refresh = (): void => {
    const different = session.refresh();
    watch.follow(session.files());
    if (!different) return;
    server.value.publish();
    told(session.outcome());
  };
  const watch = watchFiles(refresh, pace);
  refresh();
  return found({
    url: server.value.url,
    stop: () => {
      watch.stop();
      return server.value.close();
    },
  });
}
