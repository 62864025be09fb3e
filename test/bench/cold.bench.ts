/** Cold start of each command against `node -e 0`: whole processes in turn, the built program. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { macro } from '../library/small.ts';
import { freeRingText } from './free-ring.ts';
import { ratioOf, report } from './measure.ts';

const folder = mkdtempSync(join(tmpdir(), 'ringwright-cold-'));
const run = (...args: string[]): void => {
  const ran = spawnSync(process.execPath, args, { encoding: 'utf8' });
  if (ran.status === null || ran.status > 1) throw new Error(ran.stderr);
};
const nothing = (): void => run('-e', '0');
const lamp = 'fixtures/lamp-controller/ring.yaml';

/** The demonstration without what it is bonded into and what it has to carry: laid, checked and drawn only. */
function plainLamp(): string {
  const kept: string[] = [];
  let left = false;
  for (const line of readFileSync(lamp, 'utf8').split('\n')) {
    if (/^[a-z]/i.test(line)) left = /^(package|electrical):/.test(line);
    if (!left) kept.push(line.replace('../cells/', `${resolve('fixtures/cells')}/`));
  }
  const path = join(folder, 'plain.yaml');
  writeFileSync(path, kept.join('\n'));
  return path;
}

/** An invented library of a hundred cells as LEF. */
function lefFile(): string {
  const path = join(folder, 'cells.lef');
  const lanes = (width: number) =>
    ['VDD', 'VSS'].map((pin, i) => ({
      pin,
      use: i === 0 ? 'POWER' : 'GROUND',
      rects: [[0, 20 + 40 * i, width, 50 + 40 * i]],
    }));
  const cells = Array.from({ length: 100 }, (_, i) => {
    const width = 60 + (i % 5) * 5;
    return macro(`io_${i}`, 'PAD INOUT', [width, 180], lanes(width));
  });
  writeFileSync(path, `VERSION 5.8 ;\n${cells.join('')}END LIBRARY\n`);
  return path;
}

/** The second of two placements: the demonstration with one pin renamed. */
function otherPlacement(placement: string): string {
  const path = join(folder, 'now.json');
  writeFileSync(path, readFileSync(placement, 'utf8').replaceAll('"RED_0"', '"RED_ZERO"'));
  return path;
}

function freeRing(pins: number): string {
  const path = join(folder, `free-${pins}.yaml`);
  writeFileSync(path, freeRingText(pins, resolve('fixtures/cells/harbour.cells.yaml')));
  return path;
}

/** Milliseconds until the view says where the page is; it is ended then. */
async function viewed(): Promise<number> {
  const begun = performance.now();
  const child = spawn(process.execPath, ['dist/cli.js', 'view', '--no-open', lamp]);
  let said = '';
  const took = await new Promise<number>((done, fail) => {
    child.stdout.on('data', (text) => {
      said += String(text);
      if (said.includes('is shown at')) done(performance.now() - begun);
    });
    child.on('exit', () => fail(new Error(`view ended: ${said}`)));
  });
  child.removeAllListeners('exit');
  child.kill();
  await new Promise((done) => child.on('close', done));
  return took;
}

async function viewRow(): Promise<void> {
  const ratios: number[] = [];
  for (let k = 0; k < 11; k++) {
    const took = await viewed();
    const begun = performance.now();
    nothing();
    ratios.push(took / (performance.now() - begun));
  }
  ratios.sort((a, b) => a - b);
  const [low = Number.NaN, ratio = Number.NaN, high = Number.NaN] = [ratios[2], ratios[5], ratios[8]];
  report({
    what: 'cold view, 200 pads, until the page can be opened / node -e 0',
    ratio,
    spread: [low, high],
  });
}

const plain = plainLamp();
const built = join(folder, 'lamp', 'placement.json');
let fresh = 0;
const commands: readonly (readonly [string, () => readonly string[]])[] = [
  ['build, 200 pads: place, check, draw', () => ['build', plain, '-o', join(folder, 'plain')]],
  ['build, 200 pads: with wires and demands too', () => ['build', lamp, '-o', join(folder, 'lamp')]],
  ['check of its placement', () => ['check', built]],
  ['check of its description', () => ['check', lamp]],
  ['check --rules', () => ['check', '--rules']],
  ['cells, a LEF of 100', () => ['cells', lefFile()]],
  ['init', () => ['init', join(folder, `ring${fresh++}`)]],
  ['bond, 200 pads', () => ['bond', lamp]],
  ['supplies, 200 pads', () => ['supplies', lamp]],
  ['size, 200 pads', () => ['size', lamp]],
  ['size, 500 free pads', () => ['size', freeRing(500)]],
  ['diff, 200 pads', () => ['diff', built, otherPlacement(built)]],
  ['--help', () => ['--help']],
];
try {
  for (const [what, of] of commands) {
    const once = of();
    const args = once[0] === 'init' ? of : () => once;
    report(ratioOf(`cold ${what} / node -e 0`, () => run('dist/cli.js', ...args()), nothing, 11));
  }
  await viewRow();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
