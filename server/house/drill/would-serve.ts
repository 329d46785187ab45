import { spawn } from 'node:child_process'
import { createServer } from 'node:net'
import { join } from 'node:path'

const LONGEST_START_MS = 120_000
const LONGEST_GOODBYE_MS = 15_000

export type Serving = { is: 'serving'; afterMs: number } | { is: 'refused'; words: string }

/**
 * Opens a house as it would be opened, for this machine alone and whatever other machines do, asks it how it is, and closes it. It is given none of the settings
 * by which it would write to anybody, keep a copy of its own or be taken for the real one by other machines.
 */
export async function wouldServe(dataDir: string, publicUrl: string, signal?: AbortSignal): Promise<Serving> {
  const port = await freePort()
  const began = performance.now()
  const child = spawn(process.execPath, [join(process.cwd(), 'dist', 'server.mjs'), '--alone'], {
    stdio: ['ignore', 'ignore', 'pipe'],
    env: {
      ...kept(['PATH', 'HOME', 'TZ', 'TMPDIR', 'LD_LIBRARY_PATH', 'SystemRoot']),
      ...SERVED,
      DATA_DIR: dataDir,
      PORT: String(port),
      PUBLIC_URL: publicUrl,
    },
  })
  let said = ''
  let isOver = false
  child.stderr.setEncoding('utf8').on('data', (part: string) => {
    said = `${said}${part}`.slice(-4_000)
  })
  const over = new Promise<void>((resolve) => {
    const gone = () => {
      isOver = true
      resolve()
    }
    child.once('close', gone)
    child.once('error', (reason) => {
      said += reason.message
      gone()
    })
  })
  const cut = () => void child.kill('SIGKILL')
  signal?.addEventListener('abort', cut)
  try {
    while (!isOver && performance.now() - began < LONGEST_START_MS) {
      const health = await healthAt(port)
      if (health?.ok === true) return { is: 'serving', afterMs: performance.now() - began }
      if (health !== null) return { is: 'refused', words: `It opens and says: ${health.trouble ?? 'that it is not well'}` }
      await new Promise((resolve) => setTimeout(resolve, 20))
    }
    if (isOver) return { is: 'refused', words: said.trim() || 'It ended without a word.' }
    return { is: 'refused', words: `It did not answer within ${LONGEST_START_MS / 1000} seconds.` }
  } finally {
    if (!isOver) child.kill('SIGTERM')
    const late = setTimeout(cut, LONGEST_GOODBYE_MS)
    await over
    clearTimeout(late)
    signal?.removeEventListener('abort', cut)
  }
}

const SERVED: NodeJS.ProcessEnv = { NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1', HOST: '127.0.0.1', LOG_LEVEL: 'error' }

const kept = (names: readonly string[]) => Object.fromEntries(names.map((name) => [name, process.env[name]]))

async function healthAt(port: number): Promise<{ ok: boolean; trouble: string | null } | null> {
  try {
    const response = await fetch(`http://127.0.0.1:${port}/api/health`, { signal: AbortSignal.timeout(5_000) })
    return (await response.json()) as { ok: boolean; trouble: string | null }
  } catch {
    // Nobody listens yet.
    return null
  }
}

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const probe = createServer()
    probe.once('error', reject)
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
