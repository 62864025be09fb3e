/**
 * `ringwright view` as a process of its own, its page in a real Chromium: each saved change comes to the page, zoom and
 * choice stay, a broken file shows its problems over the last ring, and Ctrl+C ends it with status 0. The built program,
 * which `npm test` builds first.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { dirname, join, resolve } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { ringwright, scratchFolder } from '../helpers/program.ts';
import { onScreen, openUrl, settled, sight } from '../page/open.ts';
import { openBrowser, without } from '../write/tools.ts';
import { edit, editByRename, starterIn, withCsvIn, withLefIn } from './project.ts';

const CLI = resolve('dist/cli.js');
const root = scratchFolder();
let count = 0;
const fresh = (): string => join(root, `project-${++count}`);

interface Viewing {
  readonly url: string;
  readonly process: ChildProcess;
  readonly ended: Promise<number | null>;
  readonly printed: () => string;
}

const running = new Set<ChildProcess>();
afterEach(() => {
  for (const one of running) one.kill('SIGKILL');
});

/** Starts the program on a ring; resolves when it has said where the page is. */
function view(ring: string, ...more: readonly string[]): Promise<Viewing> {
  const child = spawn(process.execPath, [CLI, 'view', ring, '--no-open', ...more], { cwd: dirname(ring) });
  running.add(child);
  let printed = '';
  const ended = new Promise<number | null>((done) =>
    child.on('exit', (code) => {
      running.delete(child);
      done(code);
    }),
  );
  return new Promise((done, failed) => {
    const take = (text: Buffer): void => {
      printed += text.toString();
      const [, url] = /shown at (http:\/\/127\.0\.0\.1:\d+\/)/.exec(printed) ?? [];
      if (url !== undefined) done({ url, process: child, ended, printed: () => printed });
    };
    child.stdout.on('data', take);
    child.stderr.on('data', take);
    void ended.then((code) => failed(new Error(`ended with ${code}: ${printed}`)));
  });
}

describe('the command', () => {
  it.each(['SIGINT', 'SIGTERM'] as const)('ends with status 0 at %s, open pages or not', async (signal) => {
    const viewing = await view(starterIn(fresh()));
    const events = await fetch(`${viewing.url}events`);
    expect(events.status).toBe(200);
    viewing.process.kill(signal);
    expect(await viewing.ended).toBe(0);
    await events.body?.cancel().catch(() => undefined);
  });

  it('takes the port that it is given, and says so where that cannot be', async () => {
    const taken = createServer();
    const port = await new Promise<number>((done) =>
      taken.listen(0, '127.0.0.1', () => {
        const address = taken.address();
        done(typeof address === 'object' && address !== null ? address.port : 0);
      }),
    );
    const ring = starterIn(fresh());
    const refused = ringwright(['view', ring, '--no-open', '--port', String(port)], root);
    expect(refused.status).toBe(2);
    expect(refused.err).toContain(`port ${port} is taken by another program`);
    await new Promise((done) => taken.close(done));
    const viewing = await view(ring, '--port', String(port));
    expect(viewing.url).toBe(`http://127.0.0.1:${port}/`);
    viewing.process.kill('SIGINT');
    expect(await viewing.ended).toBe(0);
  });

  it.each(['70000', '-1', '8080x', '1.5', ''])('refuses the port "%s"', (port) => {
    const refused = ringwright(['view', starterIn(fresh()), '--no-open', `--port=${port}`], root);
    expect(refused.status).toBe(2);
    expect(refused.err).toContain('no port');
  });

  it('refuses a file that is not there', () => {
    const refused = ringwright(['view', 'nowhere.yaml', '--no-open'], root);
    expect(refused.status).toBe(2);
    expect(refused.err).toContain('nowhere.yaml:1:1: there is no such file');
  });

  it.skipIf(process.platform !== 'linux')(
    'opens the browser unless told not to, and does without one',
    async () => {
      const ring = starterIn(fresh());
      const bin = join(root, 'bin');
      mkdirSync(bin, { recursive: true });
      const note = join(root, 'opened.txt');
      writeFileSync(join(bin, 'xdg-open'), `#!/bin/sh\necho "$1" > '${note}'\n`, { mode: 0o755 });
      for (const [path, opens] of [
        [bin, true],
        [join(root, 'no-such-folder'), false],
      ] as const) {
        writeFileSync(note, '');
        const child = spawn(process.execPath, [CLI, 'view', ring], {
          env: { ...process.env, PATH: `${path}:/bin` },
        });
        running.add(child);
        const url = await new Promise<string>((done) =>
          child.stdout.on('data', (text: Buffer) => {
            const [, found] = /shown at (\S+)/.exec(text.toString()) ?? [];
            if (found !== undefined) done(found);
          }),
        );
        if (opens) await expect.poll(() => readFileSync(note, 'utf8').trim(), { timeout: 20_000 }).toBe(url);
        expect((await fetch(url)).status).toBe(200);
        const ended = new Promise((done) => child.on('exit', done));
        child.kill('SIGINT');
        expect(await ended).toBe(0);
      }
    },
  );
});

describe.skipIf(without('chromium'))('its page', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser?.close());

  /** Within a second on a machine with nothing else to do; the limit here is only a guard. */
  const soon = { timeout: 30_000 };

  it('shows a saved change, and keeps zoom, choice and light', async () => {
    const ring = starterIn(fresh());
    const viewing = await view(ring);
    const opened = await openUrl(browser, viewing.url);
    const { page } = opened;
    const pin = (number: number) => page.textContent(`#panel-pads tbody tr:nth-child(${number}) td`);
    await expect.poll(() => page.textContent('#ring-name'), soon).toBe('starter');
    await page.fill('#find', 'D2');
    await page.keyboard.press('Enter');
    await page.click('text=Light section main');
    await page.click('#in');
    await settled(page);
    const before = await sight(page);
    const corner = await onScreen(page, 0, 0);
    const card = await page.textContent('#card h2');
    // By writing in place, and by renaming a new file: both come.
    edit(ring, 'pin: D1,', 'pin: FIRST,');
    await expect.poll(() => pin(6), soon).toBe('FIRST');
    editByRename(ring, 'pin: FIRST,', 'pin: SECOND,');
    await expect.poll(() => pin(6), soon).toBe('SECOND');
    await settled(page);
    expect((await sight(page)).scale).toBeCloseTo(before.scale, 5);
    const now = await onScreen(page, 0, 0);
    expect(Math.hypot(now.x - corner.x, now.y - corner.y)).toBeLessThan(0.01);
    expect(await page.textContent('#card h2')).toBe(card);
    expect(await page.isVisible('.veil')).toBe(true);
    // A pin before it takes its number away: the choice stays with the pin.
    edit(ring, '    - {pin: D0, cell: io}\n', '');
    await expect.poll(() => page.textContent('#card h2'), soon).not.toBe(card);
    expect(await page.textContent('#card h2')).toMatch(/^Pad \d+ D2$/);
    expect(opened.amiss).toEqual([]);
    await opened.close();
  });

  it('shows what is wrong over the last ring, with line and column, until it is mended', async () => {
    const ring = starterIn(fresh());
    const viewing = await view(ring);
    const opened = await openUrl(browser, viewing.url);
    const { page } = opened;
    await expect.poll(() => page.textContent('#ring-name'), soon).toBe('starter');
    expect(await page.isVisible('#problems')).toBe(false);
    const line =
      readFileSync(ring, 'utf8')
        .split('\n')
        .findIndex((one) => one.startsWith('style: inline')) + 1;
    edit(ring, 'style: inline', 'style: sideways');
    await expect.poll(() => page.isVisible('#problems'), soon).toBe(true);
    expect(await page.textContent('#problems')).toContain(`ring.yaml:${line}:8`);
    expect(await page.textContent('#problems')).toContain('sideways');
    expect(await page.locator('#ring-pads use').count()).toBe(16);
    const judged = await new AxeBuilder({ page }).exclude('#world').analyze();
    expect(judged.violations.map(({ id }) => id)).toEqual([]);
    // Another mistake in its place; then a ring that cannot be laid; then a sound one.
    edit(ring, 'style: sideways', 'style: inline\nstyel: inline');
    await expect.poll(() => page.textContent('#problems'), soon).toContain(`ring.yaml:${line + 1}:1`);
    edit(ring, 'style: inline\nstyel: inline', 'style: inline');
    await expect.poll(() => page.isVisible('#problems'), soon).toBe(false);
    edit(ring, 'die: {width: 840, height: 800}', 'die: {width: 300, height: 300}');
    await expect.poll(() => page.isVisible('#problems'), soon).toBe(true);
    expect(viewing.printed()).toContain(`ring.yaml:${line}:8`);
    edit(ring, 'die: {width: 300, height: 300}', 'die: {width: 860, height: 820}');
    await expect.poll(() => page.textContent('#facts'), soon).toContain('860 × 820');
    expect(await page.isVisible('#problems')).toBe(false);
    expect(opened.amiss).toEqual([]);
    await opened.close();
  });

  it('watches the cell file, the LEF and the pin list as well', async () => {
    const lef = withLefIn(fresh());
    const first = await view(lef);
    const opened = await openUrl(browser, first.url);
    const { page } = opened;
    const problems = () => page.textContent('#problems');
    await expect.poll(() => page.textContent('#ring-name'), soon).toBe('starter');
    editByRename(join(dirname(lef), 'io.lef'), 'SIZE 60 BY 120', 'SIZE 60 BY 12x');
    await expect.poll(problems, soon).toContain('io.lef:4:3');
    edit(join(dirname(lef), 'io.lef'), 'SIZE 60 BY 12x', 'SIZE 50 BY 120');
    await expect.poll(problems, soon).not.toContain('io.lef:4:3');
    await page.fill('#find', 'D0');
    await page.keyboard.press('Enter');
    await page.click('#card dd:has-text("landing") button');
    expect(await page.textContent('#card')).toContain('50 × 120');
    edit(join(dirname(lef), 'cells.yaml'), 'role: signal', 'role: signalling');
    await expect.poll(problems, soon).toMatch(/cells\.yaml:\d+:\d+/);
    await opened.close();

    const csv = withCsvIn(fresh());
    const second = await view(csv);
    const other = await openUrl(browser, second.url);
    await expect.poll(() => other.page.textContent('#ring-name'), soon).toBe('frost-hub');
    edit(join(dirname(csv), 'pins.csv'), 'LORA_RST', 'RADIO_RST');
    await expect
      .poll(() => other.page.locator('#panel-pads td', { hasText: 'RADIO_RST' }).count(), soon)
      .toBe(2);
    expect(other.amiss).toEqual([]);
    await other.close();
  });

  it('runs nothing that a description holds', async () => {
    const ring = starterIn(fresh());
    const [title, pin] = ['<img src=x onerror="window.hit = 1">', '<b onmouseover="window.hit = 1">D1</b>'];
    edit(ring, 'ring: starter', `ring: '${title}'`);
    edit(ring, 'pin: D1,', `pin: '${pin}',`);
    const viewing = await view(ring);
    const opened = await openUrl(browser, viewing.url);
    const { page } = opened;
    await expect.poll(() => page.textContent('#ring-name'), soon).toBe(title);
    expect(await page.textContent('#panel-pads tbody tr:nth-child(6) td')).toBe(pin);
    edit(ring, 'style: inline', 'style: "<img src=x onerror=window.hit=2>"');
    await expect
      .poll(() => page.textContent('#problems'), soon)
      .toContain('<img src=x onerror=window.hit=2>');
    expect(await page.evaluate('[document.images.length, document.scripts.length, window.hit]')).toEqual([
      0,
      1,
      undefined,
    ]);
    expect(opened.amiss).toEqual([]);
    await opened.close();
  });

  it('begins with a broken description, and says when the program has gone', async () => {
    const ring = starterIn(fresh());
    edit(ring, 'ring: starter', 'ring: [');
    const viewing = await view(ring);
    const opened = await openUrl(browser, viewing.url);
    const { page } = opened;
    await expect.poll(() => page.textContent('#problems'), soon).toMatch(/ring\.yaml:\d+:\d+/);
    expect(await page.textContent('#problems')).toContain('no ring to show yet');
    expect(await page.isVisible('#empty')).toBe(true);
    edit(ring, 'ring: [', 'ring: mended');
    await expect.poll(() => page.textContent('#ring-name'), soon).toBe('mended');
    expect(await page.isVisible('#empty')).toBe(false);
    expect(await page.isVisible('#lost')).toBe(false);
    viewing.process.kill('SIGINT');
    expect(await viewing.ended).toBe(0);
    await expect.poll(() => page.isVisible('#lost'), soon).toBe(true);
    await opened.close();
  });
});
