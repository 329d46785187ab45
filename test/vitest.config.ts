import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: `${import.meta.dirname}/..`,
    include: ['test/**/*.test.{ts,tsx}'],
    exclude: ['test/journeys/**', '**/node_modules/**'],
    environment: 'node',
    globalSetup: 'test/make/told-folder.ts',
    pool: 'threads',
    // Files share what a worker has loaded: loading the house anew for each of 170 files took a third of the run.
    isolate: false,
    // What is waited for comes by itself; how soon is no matter of the suite.
    expect: { poll: { timeout: 20_000 } },
    maxWorkers: 2,
    // A guard against what never ends; a busy machine may take its time.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    css: { modules: { classNameStrategy: 'non-scoped' } },
  },
})
