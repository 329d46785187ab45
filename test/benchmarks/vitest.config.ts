import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: { root: `${import.meta.dirname}/../..`, include: ['test/benchmarks/*.bench.ts'], environment: 'node' },
})
