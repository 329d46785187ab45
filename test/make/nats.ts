import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { freePort, NATS_SERVER } from './neighbour'

export interface NatsCluster {
  urls: string[]
  ports: number[]
  /** Ends one server at once, as a power cut would. */
  kill(index: number): Promise<void>
  /** Starts one again that was ended, on what it has kept. */
  start(index: number): Promise<void>
  stop(): Promise<void>
}

/** Starts one server with JetStream, or three that form a cluster, on free ports of this machine, and waits until they keep streams. */
export async function openNatsServers(count: 1 | 3 = 1): Promise<NatsCluster> {
  const program = NATS_SERVER
  if (program === null) throw new Error('there is no nats-server')
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-nats-'))
  const numbers = Array.from({ length: count }, (_, index) => index)
  const ports = await Promise.all(numbers.map(freePort))
  const routes = await Promise.all(numbers.map(freePort))
  const monitors = await Promise.all(numbers.map(freePort))
  const running: (ChildProcess | undefined)[] = []
  for (const index of numbers) {
    const cluster =
      count === 1
        ? ''
        : `cluster { name: house, listen: "127.0.0.1:${routes[index]}", routes: [${routes.map((port) => `"nats://127.0.0.1:${port}"`).join(', ')}] }`
    writeFileSync(
      join(dir, `${index}.conf`),
      `server_name: server-${index}
listen: "127.0.0.1:${ports[index]}"
http: "127.0.0.1:${monitors[index]}"
jetstream { store_dir: "${join(dir, String(index))}", max_mem: 64MB, max_file: 1TB }
${cluster}
`,
    )
  }
  const isReady = async (index: number) => {
    const health = await fetch(`http://127.0.0.1:${monitors[index]}/healthz`).catch(() => null)
    return health?.ok === true
  }
  const start = async (index: number) => {
    const child = spawn(program, ['-c', join(dir, `${index}.conf`)], { stdio: 'ignore' })
    running[index] = child
  }
  const waitFor = async (index: number) => {
    for (let tries = 0; !(await isReady(index)); tries++) {
      if (tries > 300 || running[index]?.exitCode !== null) throw new Error('nats-server did not start')
      await new Promise((resolve) => setTimeout(resolve, 50))
    }
  }
  const kill = (index: number) =>
    new Promise<void>((resolve) => {
      const child = running[index]
      if (!child || child.exitCode !== null || child.signalCode !== null) return resolve()
      child.once('exit', () => resolve())
      child.kill('SIGKILL')
    })
  for (const index of numbers) await start(index)
  for (const index of numbers) await waitFor(index)
  return {
    urls: ports.map((port) => `nats://127.0.0.1:${port}`),
    ports,
    kill,
    start: async (index) => {
      await start(index)
      await waitFor(index)
    },
    async stop() {
      await Promise.all(numbers.map(kill))
      rmSync(dir, { recursive: true, force: true })
    },
  }
}
