// Builds the server bundle (dist/) and, unless --server-only, the pages (.next/).
import { spawnSync } from 'node:child_process'
import { build } from 'esbuild'

await build({
  entryPoints: {
    server: 'server/main.ts',
    'paper-worker': 'server/documents/paper-worker.ts',
    'plan-worker': 'server/planning/plan-worker.ts',
    'simulation-worker': 'server/simulation/simulation-worker.ts',
    'build-worker': 'server/parts/build-worker.ts',
    'pack-worker': 'server/keeping/pack-worker.ts',
    keep: 'server/keep.ts',
    rehearse: 'server/rehearsal/rehearse.ts',
    'rehearsal-house': 'server/rehearsal/rehearsal-house.ts',
    seed: 'seed/main.ts',
  },
  outdir: 'dist',
  outExtension: { '.js': '.mjs' },
  bundle: true,
  packages: 'external',
  platform: 'node',
  target: 'node20',
  format: 'esm',
  sourcemap: true,
  logLevel: 'warning',
  banner: { js: "import { createRequire as bundleRequire } from 'node:module'; const require = bundleRequire(import.meta.url);" },
})

if (!process.argv.includes('--server-only')) {
  const { status } = spawnSync(process.execPath, ['node_modules/next/dist/bin/next', 'build'], {
    stdio: 'inherit',
    env: { ...process.env, NEXT_TELEMETRY_DISABLED: '1' },
  })
  process.exit(status ?? 1)
}
