/**
 * A thousand saves: every one is a change, a page listens all the time, others come and go; in the end there are no
 * more timers and sockets than at first, and no more memory than the first hundred saves had needed.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, it } from 'vitest';
import { readText } from '../../src/commands/files.ts';
import { viewLive } from '../../src/serve/live.ts';
import { scratchFolder } from '../helpers/program.ts';
import { starterIn } from './project.ts';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

const SAVES = 1000;

it('a thousand saves leave nothing behind', async () => {
  const ring = starterIn(scratchFolder());
  const text = readFileSync(ring, 'utf8');
  let told: (() => void) | undefined;
  const handles = () => process.getActiveResourcesInfo().filter((kind) => kind !== 'Immediate').length;
  const atFirst = handles();
  const live = await viewLive(ring, readText, 0, () => told?.(), { every: 2, settled: 1, patience: 20 });
  if (!live.ok) throw new Error(live.problems[0]?.message);
  const { url, stop } = live.value;
  const page = await fetch(`${url}events`);
  let heard = '';
  const listening = (async () => {
    for await (const part of page.body ?? []) heard += Buffer.from(part).toString();
  })().catch(() => undefined);
  const save = (i: number): Promise<void> =>
    new Promise((done) => {
      told = done;
      writeFileSync(ring, text.replace('pin: D1,', i % 10 === 9 ? 'pin: ,' : `pin: D1_${i},`));
    });
  const level = async (): Promise<{ heap: number; open: number }> => {
    collect();
    await new Promise((done) => setTimeout(done, 20));
    collect();
    return { heap: process.memoryUsage().heapUsed, open: handles() };
  };
  let early: Awaited<ReturnType<typeof level>> | undefined;
  for (let i = 0; i < SAVES; i++) {
    await save(i);
    if (i % 50 === 0) {
      const visit = await fetch(`${url}ring`);
      expect(await visit.json()).toMatchObject({ version: i + 2 });
      const glance = await fetch(`${url}events`);
      await glance.body?.cancel();
    }
    if (i === 99) early = await level();
  }
  const late = await level();
  expect(early?.heap).toBeGreaterThan(0);
  expect((late.heap - (early?.heap ?? 0)) / 1e6).toBeLessThan(8);
  expect(late.open).toBeLessThanOrEqual((early?.open ?? 0) + 2);
  // The page has heard of every version, the first included.
  const versions = [...heard.matchAll(/data: (\d+)/g)].map((match) => Number(match[1]));
  expect(versions).toEqual(Array.from({ length: SAVES + 1 }, (_, i) => i + 1));
  await stop();
  await listening;
  await expect.poll(handles, { timeout: 20_000 }).toBeLessThanOrEqual(atFirst);
});
