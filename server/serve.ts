import { createServer } from 'node:http'
import { join } from 'node:path'
import next from 'next'
import { type House, openHouse } from './house'
import type { Clock } from './kernel/clock'
import { makeFirstLink } from './people/people.service'
import type { Config } from './runtime/config'
import { openLog } from './runtime/log'
import { openPostman } from './runtime/mail'
import { giveSlot } from './runtime/slot'
import { createCaller } from './trpc/root'
import { contextFor } from './web/context'
import { openDoor } from './web/door'

export interface Served {
  house: House
  close(): Promise<void>
}

/** Opens the house, prepares the pages and listens; sweeps begin when the door is open. */
export async function serve({ config, clock, isDev }: { config: Config; clock: Clock; isDev: boolean }): Promise<Served> {
  const root = process.cwd()
  const log = openLog(config.logLevel)
  const house = openHouse({
    ...config,
    migrationsDir: join(root, 'db', 'migrations'),
    paperWorker: join(root, 'dist', 'paper-worker.mjs'),
    planWorker: join(root, 'dist', 'plan-worker.mjs'),
    simulationWorker: join(root, 'dist', 'simulation-worker.mjs'),
    buildWorker: join(root, 'dist', 'build-worker.mjs'),
    packWorker: join(root, 'dist', 'pack-worker.mjs'),
    clock,
    log,
  })
  giveSlot({
    callerFor: async (cookies) => createCaller(await contextFor(house, { cookies, address: '', setCookie: () => {} })),
    now: () => house.clock.now(),
    publicUrl: config.publicUrl,
  })
  const app = next({ dev: isDev, dir: root, port: config.port, hostname: config.host })
  await app.prepare()
  const pages = app.getRequestHandler()
  const door = openDoor({ house, trustedProxy: config.trustedProxy, isDev, pages: (request, response) => pages(request, response) })
  const server = createServer(door)
  // Development's live reload asks for a socket of its own.
  server.on('upgrade', app.getUpgradeHandler())
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(config.port, config.host, resolve)
  })
  house.startTicking()
  const { smtpUrl } = config
  const postman = smtpUrl ? openPostman({ sight: house.sight, queue: house.queue, smtpUrl, from: config.mailFrom, log }) : null
  log.info({ url: config.publicUrl, mail: smtpUrl ? 'goes out' : 'waits in the outbox' }, 'the house is open')

  return {
    house,
    close: () =>
      new Promise((resolve) => {
        postman?.stop()
        server.close(() => resolve())
        // Open event streams would keep the process for ever.
        house.close()
        server.closeAllConnections()
      }),
  }
}

/** The one-time link that makes the first maker, or null when there is one. */
export const firstLink = (house: House): Promise<string | null> => house.queue.run(makeFirstLink)
