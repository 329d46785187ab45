import { createServer } from 'node:http'
import { join } from 'node:path'
import next from 'next'
import { openHouse } from './house'
import { makeFirstLink } from './people/people.service'
import { readConfig } from './runtime/config'
import { openLog } from './runtime/log'
import { openPostman } from './runtime/mail'
import { giveSlot } from './runtime/slot'
import { wallClock } from './runtime/stamp'
import { createCaller } from './trpc/root'
import { contextFor } from './web/context'
import { openDoor } from './web/door'

async function main(): Promise<void> {
  const config = readConfig()
  const isDev = process.argv.includes('--dev')
  const root = process.cwd()
  const log = openLog(config.logLevel)
  const house = openHouse({ ...config, migrationsDir: join(root, 'db', 'migrations'), clock: wallClock(), log })
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
  // Next's own server would else leave development's live reload without a socket.
  server.on('upgrade', app.getUpgradeHandler())
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(config.port, config.host, resolve)
  })
  house.startTicking()
  const postman = config.smtpUrl
    ? openPostman({ db: house.db, queue: house.queue, smtpUrl: config.smtpUrl, from: config.mailFrom, log })
    : null
  log.info({ url: config.publicUrl, mail: config.smtpUrl ? 'goes out' : 'waits in the outbox' }, 'the house is open')
  if (!config.isDemo) await offerFirstLink(house)

  const stop = () => {
    postman?.stop()
    server.close(() => process.exit(0))
    house.close()
    server.closeAllConnections()
    setTimeout(() => process.exit(0), 2000).unref()
  }
  process.once('SIGTERM', stop)
  process.once('SIGINT', stop)
}

async function offerFirstLink(house: ReturnType<typeof openHouse>): Promise<void> {
  const link = await house.queue.run(makeFirstLink)
  if (link) process.stdout.write(`\nNobody is the maker yet. Open this once to become it:\n  ${link}\n\n`)
}

main().catch((reason) => {
  process.stderr.write(`${reason instanceof Error ? reason.message : String(reason)}\n`)
  process.exit(1)
})
