import { existsSync } from 'node:fs'
import { defineConfig, devices } from '@playwright/test'

const system = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((path) => existsSync(path))

/** Work of a desk, and work of a hand: what is done in these does not hang on the size. Their pages are looked at at the other size in at-the-other-size.spec.ts. */
const AT_A_DESK = ['books', 'the-end', 'revision', 'the-day', 'after-the-stream']
const IN_THE_HAND = ['donors', 'the-camera', 'the-shelf']
const files = (names: readonly string[]) => names.map((name) => `${name}.spec.ts`)
/** A change is looked at at one size, the narrower where both are possible; the whole run looks at both. */
const isOneSize = process.env.ONE_SIZE === '1'

export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  outputDir: '../../test-results/journeys',
  globalSetup: './prepare.ts',
  // Each size has a house of its own, so the two run side by side; within one the steps build on each other.
  workers: 2,
  // A journey that needed its second try is told as such; on a busy machine a browser may stall for once.
  retries: 1,
  fullyParallel: false,
  timeout: 120_000,
  expect: { timeout: 15_000 },
  reporter: [['list'], ['json', { outputFile: '../../test-results/journeys.json' }]],
  use: {
    locale: 'en-GB',
    timezoneId: 'Europe/London',
    actionTimeout: 20_000,
    // Recording every step takes as long as the steps; the second try is recorded.
    trace: 'on-first-retry',
    launchOptions: {
      executablePath: system,
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  projects: [
    {
      name: 'desktop',
      testIgnore: files(IN_THE_HAND),
      testMatch: isOneSize ? files(AT_A_DESK) : '*.spec.ts',
      use: { ...devices['Desktop Chrome'], viewport: { width: 1280, height: 900 } },
    },
    { name: 'phone', testIgnore: files(AT_A_DESK), use: { ...devices['Pixel 7'], defaultBrowserType: 'chromium' } },
  ],
})
