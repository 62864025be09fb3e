/** Builds every demonstration on Node 20, 22 and 24 and compares all files byte by byte. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const RINGS = ['tide-gauge', 'frost-hub', 'lamp-controller'].map((name) => `fixtures/${name}/ring.yaml`);
if (existsSync('../shared/open-io-cells'))
  RINGS.push(
    'fixtures/open-130/inline.ring.yaml',
    'fixtures/open-130/staggered.ring.yaml',
    'fixtures/open-180/ring.yaml',
  );

const folder = mkdtempSync(join(tmpdir(), 'ringwright-'));
let compared = 0;
let differing = 0;
try {
  for (const [index, ring] of RINGS.entries()) {
    const sets = ['20', '22', '24'].map((version) => {
      const out = join(folder, `${index}-${version}`);
      execFileSync('npx', ['-y', '-p', `node@${version}`, 'node', 'dist/cli.js', 'build', ring, '-o', out], {
        stdio: 'pipe',
      });
      return new Map(
        readdirSync(out)
          .sort()
          .map((name) => [name, readFileSync(join(out, name))]),
      );
    });
    const [first, ...others] = sets;
    for (const other of others) {
      if ([...first.keys()].join() !== [...other.keys()].join()) differing++;
      for (const [name, bytes] of first) {
        compared++;
        if (!other.get(name)?.equals(bytes)) {
          differing++;
          console.log(`${ring}: ${name} differs`);
        }
      }
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
console.log(`${compared} files compared on Node 20, 22 and 24, ${differing} differ`);
process.exitCode = differing > 0 || compared === 0 ? 1 : 0;
