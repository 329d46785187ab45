import { spawn } from 'node:child_process'
import { join } from 'node:path'
import { build } from 'esbuild'
import { serveRelay } from '#house/programs/serve-relay'
import { firstKeyIn } from '#runtime/disk/keys'
import { readConfig } from '#runtime/settings/config'
import type { Stage } from '#test/stage'
import { freePort } from './neighbour'

const ROOT = join(import.meta.dirname, '..', '..')

/** A relay of the house of a stage, or of whichever `wishes` name. */
export async function openRelay(
  stage: Pick<Stage, 'house' | 'dir'>,
  natsUrls: readonly string[],
  wishes: Record<string, string> = {},
  build = 'one build',
) {
  const relay = await serveRelay(
    readConfig({
      PORT: '0',
      HOST: '127.0.0.1',
      PUBLIC_URL: stage.house.publicUrl,
      NATS_URL: natsUrls.join(','),
      RELAY_OF: firstKeyIn(join(stage.dir, 'keys')) ?? '',
      TRUSTED_PROXY: 'x-forwarded-for',
      LOG_LEVEL: 'silent',
      ...wishes,
    }),
    build,
  )
  return { ...relay, url: `http://127.0.0.1:${relay.port}` }
}

/** A relay in a process of its own, which can be killed. */
export async function startRelay(stage: { dir: string; house: { publicUrl: string } }, natsUrls: readonly string[]) {
  const outfile = join(ROOT, 'dist', 'tried-relay.mjs')
  await build({
    entryPoints: [join(ROOT, 'server', 'house', 'programs', 'relay.ts')],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
  })
  const port = await freePort()
  const child = spawn(process.execPath, [outfile], {
    cwd: ROOT,
    stdio: ['ignore', 'ignore', 'inherit'],
    env: {
      ...process.env,
      PORT: String(port),
      HOST: '127.0.0.1',
      PUBLIC_URL: stage.house.publicUrl,
      NATS_URL: natsUrls.join(','),
      RELAY_OF: firstKeyIn(join(stage.dir, 'keys')) ?? '',
      TRUSTED_PROXY: 'x-forwarded-for',
      LOG_LEVEL: 'silent',
    },
  })
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  const url = `http://127.0.0.1:${port}`
  for (let tries = 0; !(await fetch(`${url}/api/health`).catch(() => null))?.ok; tries++) {
    if (tries > 300 || child.exitCode !== null) throw new Error('the relay did not open')
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  return {
    url,
    port,
    pid: child.pid ?? 0,
    kill: async (signal: NodeJS.Signals = 'SIGKILL') => {
      child.kill(signal)
      await gone
    },
  }
}
