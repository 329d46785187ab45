import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: `${import.meta.dirname}/..`,
    include: ['test/**/*.test.{ts,tsx}'],
    exclude: ['test/journeys/**', '**/node_modules/**'],
    environment: 'node',
    pool: 'threads',
    maxWorkers: 2,
    testTimeout: 20_000,
    css: { modules: { classNameStrategy: 'non-scoped' } },
  },
})
