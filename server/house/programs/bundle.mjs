/**
 * What stays outside the bundle: what is native, finds files of its own by where it lies, starts threads of its own files, or is
 * a whole program; and what is read only when somebody asks for it. Everything else is read from one file: from thousands, a start takes seconds.
 */
const OUTSIDE = [
  ...['better-sqlite3', 'sharp', '@resvg/resvg-wasm', 'highs', 'pdfkit', 'bwip-js', 'dejavu-fonts-ttf', '@fontsource/*', 'pino'],
  ...['next', 'react', 'react-dom', 'esbuild', 'prom-client', '@nats-io/*', '@flydotio/*'],
]

/** How the programs of the house are bundled into dist/. The licences' words of what is bundled stand beside each. */
export const BUNDLE = {
  entryPoints: {
    server: 'server/house/programs/main.ts',
    'paper-worker': 'server/doors/papers/paper-worker.ts',
    'plan-worker': 'server/sale/planning/plan-worker.ts',
    'simulation-worker': 'server/sale/simulation/simulation-worker.ts',
    'build-worker': 'server/bench/buildable/build-worker.ts',
    'list-worker': 'server/bench/designs/list-worker.ts',
    'sheet-worker': 'server/gifts/sheets/sheet-worker.ts',
    'pack-worker': 'server/house/programs/pack-worker.ts',
    standby: 'server/house/programs/standby.ts',
    'copy-worker': 'server/house/programs/copy-worker.ts',
    'look-worker': 'server/house/programs/look-worker.ts',
    'page-worker': 'server/house/programs/page-worker.ts',
    keep: 'server/house/programs/keep.ts',
    drill: 'server/house/programs/drill.ts',
    rehearse: 'server/house/programs/rehearse.ts',
    'rehearsal-house': 'server/house/programs/rehearsal-house.ts',
    relay: 'server/house/programs/relay.ts',
    seed: 'seed/main.ts',
  },
  outdir: 'dist',
  outExtension: { '.js': '.mjs' },
  bundle: true,
  external: OUTSIDE,
  legalComments: 'linked',
  platform: 'node',
  target: 'node20',
  format: 'esm',
  sourcemap: true,
  logLevel: 'warning',
  banner: { js: "import { createRequire as bundleRequire } from 'node:module'; const require = bundleRequire(import.meta.url);" },
}
