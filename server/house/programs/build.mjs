// Builds the server bundle (dist/) and, unless --server-only, the pages (.next/).
import { spawnSync } from 'node:child_process'
import { build } from 'esbuild'

await build({
  entryPoints: {
    server: 'server/house/programs/main.ts',
    'paper-worker': 'server/doors/papers/paper-worker.ts',
    'plan-worker': 'server/sale/planning/plan-worker.ts',
    'simulation-worker': 'server/sale/simulation/simulation-worker.ts',
    'build-worker': 'server/bench/buildable/build-worker.ts',
    'pack-worker': 'server/house/programs/pack-worker.ts',
    standby: 'server/house/programs/standby.ts',
    'copy-worker': 'server/house/programs/copy-worker.ts',
    keep: 'server/house/programs/keep.ts',
    rehearse: 'server/house/programs/rehearse.ts',
    'rehearsal-house': 'server/house/programs/rehearsal-house.ts',
    relay: 'server/house/programs/relay.ts',
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
