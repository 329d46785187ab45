import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: `${import.meta.dirname}/..`,
    include: ['test/**/*.test.{ts,tsx}'],
    exclude: ['test/journeys/**', '**/node_modules/**'],
    environment: 'node',
    pool: 'threads',
    maxWorkers: 2,
    // A guard against what never ends; a busy machine may take its time.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    css: { modules: { classNameStrategy: 'non-scoped' } },
  },
})
