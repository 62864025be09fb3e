import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: { include: ['test/proof/**/*.proof.ts'], testTimeout: 3_600_000, hookTimeout: 120_000 },
});
