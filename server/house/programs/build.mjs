// Builds the server bundle (dist/) and the pages (.next/), or one of them: --server-only, --pages-only.
import { spawnSync } from 'node:child_process'
import { build } from 'esbuild'
import { BUNDLE } from './bundle.mjs'
import { packStatic } from './pack-static.mjs'

if (!process.argv.includes('--pages-only')) await build(BUNDLE)

if (!process.argv.includes('--server-only')) {
  const { status } = spawnSync(process.execPath, ['node_modules/next/dist/bin/next', 'build'], {
    stdio: 'inherit',
    env: { ...process.env, NEXT_TELEMETRY_DISABLED: '1' },
  })
  if (status === 0) await packStatic(`${process.env.NEXT_DIST_DIR ?? '.next'}/static`)
  process.exit(status ?? 1)
}
