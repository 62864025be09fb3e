/** Cold start of each command against `node -e 0`: whole processes in turn, the built program. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
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

const commands: readonly (readonly [string, readonly string[]])[] = [
  ['build, 200 pads: place, check, draw', ['build', plainLamp(), '-o', join(folder, 'plain')]],
  ['build, 200 pads: with wires and demands too', ['build', lamp, '-o', join(folder, 'lamp')]],
  ['check of its placement', ['check', join(folder, 'lamp', 'placement.json')]],
  ['check of its description', ['check', lamp]],
  ['check --rules', ['check', '--rules']],
  ['--help', ['--help']],
];
try {
  for (const [what, args] of commands)
    report(ratioOf(`cold ${what} / node -e 0`, () => run('dist/cli.js', ...args), nothing, 11));
} finally {
  rmSync(folder, { recursive: true, force: true });
}
