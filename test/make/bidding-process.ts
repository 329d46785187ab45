import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'

export interface BiddingProcess {
  child: ChildProcess
  /** Keys of the bids that were acknowledged until now. */
  taken(): string[]
  /** Resolves when it has ended, however. */
  gone: Promise<NodeJS.Signals | null>
}

/** Builds the house that bids against itself (crash-house.ts), and answers what starts it on a folder. */
export async function buildBiddingHouse() {
  const dist = mkdtempSync(join(import.meta.dirname, '..', '..', 'node_modules', '.crash-'))
  await build({
    entryPoints: [join(import.meta.dirname, 'crash-house.ts')],
    outfile: join(dist, 'crash-house.mjs'),
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    banner: { js: "import { createRequire as bundleRequire } from 'node:module'; const require = bundleRequire(import.meta.url);" },
  })
  return {
    start(dir: string, lot: number, round = 0, env: Record<string, string> = {}): BiddingProcess {
      const child = spawn(process.execPath, [join(dist, 'crash-house.mjs'), dir, String(lot), String(round)], {
        stdio: ['ignore', 'pipe', 'inherit'],
        env: { ...process.env, ...env },
      })
      let said = ''
      child.stdout.on('data', (part) => {
        said += part
      })
      return {
        child,
        // The last line may have been cut off in the middle.
        taken: () => said.split('\n').slice(0, -1),
        gone: new Promise((resolve) => child.once('exit', (_, signal) => resolve(signal))),
      }
    },
    remove: () => rmSync(dist, { recursive: true, force: true }),
  }
}
