import { defineConfig } from 'vitest/config';

/** Apart from `npm test`: it builds the image, which takes minutes, and needs a Docker engine. */
export default defineConfig({
  test: {
    include: ['tests/containers/**/*.test.ts'],
    reporters: ['default', './tests/support/closing-line.ts'],
    testTimeout: 180_000,
  },
});
