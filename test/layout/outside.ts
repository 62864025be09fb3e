/** Tools that a plain install does not bring: found or not, and in CI required. */
import { spawnSync } from 'node:child_process';

export interface Ran {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

export function run(command: string, args: readonly string[], input = ''): Ran {
  const { status, stdout, stderr } = spawnSync(command, [...args], { encoding: 'utf8', input });
  return { status, out: stdout ?? '', err: stderr ?? '' };
}

/** The first of some commands that answers a probe with status 0; in CI one of them must. */
export function tool(what: string, commands: readonly string[], probe: readonly string[]): string | null {
  const command = commands.find((name) => run(name, probe).status === 0) ?? null;
  if (command === null && process.env.CI !== undefined) throw new Error(`CI needs ${what}`);
  if (command === null) console.warn(`${what} is not installed: compared with the recorded value only`);
  return command;
}
