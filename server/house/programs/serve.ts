import type { IncomingMessage, ServerResponse } from 'node:http'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { openOwnFiles } from '#doors/pages/own-files'
import { createCaller } from '#doors/trpc/root'
import { giveSlot } from '#doors/trpc/slot'
import { buildIdOf, nextDir } from '#doors/web/build-id'
import { contextFor } from '#doors/web/context'
import { openDoor } from '#doors/web/door'
import { openHeaders } from '#doors/web/headers'
import { openLeave } from '#doors/web/leave'
import { reviewLetter } from '#doors/web/letter-reviews'
import { serverFor } from '#doors/web/server'
import { LIVE_TOPICS } from '#doors/web/topics'
import type { Clock } from '#kernel/clock'
import type { Instant } from '#kernel/instant'
import { openSheetKeeper } from '#money/documents/sheet-keeper'
import { noteOtherMachines } from '#people/changes/other-machines.service'
import { noteSigningKey } from '#people/changes/signing-key.service'
import { pushKeysOf } from '#people/devices/push-keys'
import { openPushPost } from '#people/devices/push-post'
import { addressIn } from '#people/outbox/mail-server.rules'
import { mailWatched } from '#people/outbox/mail-watched'
import { openPostman } from '#people/outbox/postman'
import { makeFirstLink } from '#people/people/people.service'
import { openFirstSigner } from '#runtime/disk/keys'
import { openNats } from '#runtime/nats/nats'
import type { Machine } from '#runtime/queue/machine'
import { sendWhenReached } from '#runtime/relay/sender'
import { openSigning } from '#runtime/relay/signed'
import type { Config } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { openPusher } from '#sale/pushes/pusher'
import { openHouse } from '../open/house'
import type { House, HouseParts } from '../open/parts'
import { warmUp } from '../open/warm-up'
import type { FastClock } from '../rehearsal/fast-clock'
import { openGate } from '../rehearsal/gate'
import { answerClock, markPage } from '../rehearsal/mark'
import type { OpenRehearsal } from '../rehearsal/open-rehearsal'
import { openRunner } from '../rehearsal/runner'
import { keepPages } from './keep-pages'

export interface Served {
  house: House
  close(): Promise<void>
}

export interface ServeParts {
  config: Config
  clock: Clock
  isDev: boolean
  machine?: Machine
  /** The wall clock with which the house's own is compared; the machine's unless told. */
  wall?(): Instant
  /** Somebody says that the clock is right though it stands before what was done last. */
  isClockRight?: boolean
  /** Somebody says that what stands after a damage in the database's log may be lost. */
  mayLoseLog?: boolean
  /** Somebody says that no other machine writes for this house any more. */
  isAlone?: boolean
  /** Called when the disk has failed. */
  ended?(): void
  /** How the machines that stand by are reached, where there are any. */
  openPublishing?: HouseParts['openPublishing']
  /** When the house is a copy on which the day is rehearsed: its clock, which its pages follow, what seals the passes to it, and what plays it. */
  asRehearsal?: { clock: FastClock; key: string; open(house: House): Promise<OpenRehearsal> }
}

/** How long a house that is told to end waits for what it is answering. */
const LONGEST_LEAVE_MS = 5_000

/** Opens the house and listens; sweeps begin when the door is open. Bids are taken at once, pages when they have been prepared. */
export async function serve({
  config,
  clock,
  isDev,
  machine,
  wall,
  isClockRight,
  mayLoseLog,
  isAlone,
  ended,
  openPublishing,
  asRehearsal,
}: ServeParts): Promise<Served> {
  const root = process.cwd()
  const log = openLog(config.logLevel)
  const build = buildIdOf(root)
  const house = openHouse({
    ...config,
    migrationsDir: join(root, 'db', 'migrations'),
    paperWorker: join(root, 'dist', 'paper-worker.mjs'),
    planWorker: join(root, 'dist', 'plan-worker.mjs'),
    simulationWorker: join(root, 'dist', 'simulation-worker.mjs'),
    buildWorker: join(root, 'dist', 'build-worker.mjs'),
    listWorker: join(root, 'dist', 'list-worker.mjs'),
    sheetWorker: join(root, 'dist', 'sheet-worker.mjs'),
    packWorker: join(root, 'dist', 'pack-worker.mjs'),
    copyWorker: join(root, 'dist', 'copy-worker.mjs'),
    lookWorker: join(root, 'dist', 'look-worker.mjs'),
    clock,
    machine,
    wall,
    isClockRight,
    mayLoseLog,
    isAlone,
    ended,
    openPublishing,
    log,
    build,
    isRehearsal: asRehearsal !== undefined,
  })
  try {
    await house.publishing?.begin()
  } catch (reason) {
    house.close()
    throw reason
  }
  giveSlot({
    callerFor: async (cookies) => createCaller(await contextFor(house, { cookies, address: '', setCookie: () => {} })),
    now: () => house.clock.now(),
    trouble: () => house.trouble(),
    publicUrl: config.publicUrl,
  })
  let prepared: ReturnType<typeof preparePages> | null = null
  const pages = async (request: IncomingMessage, response: ServerResponse) => {
    if (asRehearsal) {
      if (answerClock(request, response, asRehearsal.clock, () => lastNews(house))) return
      markPage(request, response, asRehearsal.clock)
    }
    const app = await prepared
    await app?.getRequestHandler()(request, response)
  }
  const { trustedProxy, securityContact, metricsKey, publicUrl } = config
  // A page of a rehearsal carries its clock, and one that is being written is compiled as it is asked for.
  const keptPages = asRehearsal || isDev ? null : keepPages(house, { ...config, root })
  const headers = openHeaders({ publicUrl, isDev })
  const files = isDev ? null : openOwnFiles({ nextDir: nextDir(root), publicDir: join(root, 'public'), forPage: headers.forPage })
  const door = openDoor({ house, trustedProxy, securityContact, metricsKey, isDev, pages, keptPages, files })
  const leave = openLeave(asRehearsal ? openGate({ key: asRehearsal.key, url: publicUrl, inside: door }) : door, headers)
  const server = serverFor(leave.door, headers, house.openFiles.mostConnections)
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(config.port, config.host, resolve)
  })
  prepared = preparePages({ dev: isDev, dir: root, port: config.port, hostname: config.host })
  // The house itself speaks no TLS: where its address does, something stands before it.
  if (config.publicUrl.startsWith('https:') && config.trustedProxy === 'none') house.unnamedProxy.found()
  await house.queue.run(noteSigningKey)
  const { publishing } = house
  if (publishing) await house.queue.run((turn) => noteOtherMachines(turn, publishing.isAlone()))
  house.startTicking()
  const rehearsal = asRehearsal ? await asRehearsal.open(house) : openRunner({ root, log })
  house.rehearsal = rehearsal
  const { smtpUrl, mayMailGoInClear: mayGoInClear, mailFrom: from } = config
  const { sight, queue } = house
  const sheets = openSheetKeeper({ sight, command: queue.run, print: house.press.print, log })
  house.hearFirst(sheets.heard)
  void sheets.round()
  const postman = smtpUrl ? openPostman({ sight, queue, smtpUrl, mayGoInClear, from, review: reviewLetter, log }) : null
  const pusher = asRehearsal ? null : openPushing(house, config)
  house.vitals.watch(...mailWatched({ sight: house.sight, postman, isDemo: config.isDemo }))
  const sender = asRehearsal || config.natsUrls.length === 0 ? null : sendToRelays(house, config, build)
  log.info({ url: config.publicUrl, mail: smtpUrl ? 'goes out' : 'waits in the outbox' }, 'the house is open')
  const app = await prepared
  // Development's live reload asks for a socket of its own; an open house has none to give.
  if (isDev) server.on('upgrade', app.getUpgradeHandler())
  const warming = asRehearsal || isDev ? null : warmUp(house)

  return {
    house,
    async close() {
      warming?.stop()
      sheets.stop()
      postman?.stop()
      pusher?.stop()
      sender?.close()
      rehearsal.close()
      const closed = new Promise<void>((resolve) => server.once('close', () => resolve()))
      house.hub.close()
      await leave.begin(server, LONGEST_LEAVE_MS)
      await house.publishing?.close()
      house.stopTicking()
      await house.elsewhere.stop()
      keptPages?.close()
      house.close()
      server.closeAllConnections()
      await closed
    },
  }
}

/** Devices of bidders are told what happens to their bids; those of a rehearsal are nobody's. */
function openPushing(house: House, { securityContact, publicUrl, mailFrom }: Config) {
  const { sight, queue, keys, log } = house
  const subject = securityContact ?? (publicUrl.startsWith('https:') ? publicUrl : `mailto:${addressIn(mailFrom)}`)
  const pusher = openPusher({ sight, queue, post: openPushPost({ keys: pushKeysOf(keys), subject }), log })
  house.hearFirst(pusher.heard)
  return pusher
}

/** What its own watchers see goes to relays as well. */
function sendToRelays(house: House, config: Config, build: string) {
  const { dataDir, natsUrls: urls, natsCreds: credsFile, writerUrl, host, port, publicUrl } = config
  const { kid, x, sign } = openFirstSigner(join(dataDir, 'keys'))
  house.log.info({ relayOf: kid }, 'relays of this house are opened with RELAY_OF set to its name')
  return sendWhenReached({
    nats: () => openNats({ urls, credsFile, name: 'screens of the house' }),
    log: house.log,
    prefix: `tagstrip.${kid}`,
    sign: openSigning(x, sign),
    hub: house.hub,
    topics: LIVE_TOPICS,
    seqNow: house.seqNow,
    now: () => house.clock.now(),
    trouble: house.trouble,
    build,
    url: writerUrl ?? `http://${host === '0.0.0.0' || host === '::' ? hostname() : host}:${port}`,
    publicUrl,
  })
}

/** The pages' own program is read only when the door is open: reading it takes longer than opening the house. */
async function preparePages(options: { dev: boolean; dir: string; port: number; hostname: string }) {
  const { default: next } = await import('next')
  const app = next(options)
  await app.prepare()
  return app
}

/** The one-time link that makes the first maker, or null when there is one. */
export const firstLink = (house: House): Promise<string | null> => house.queue.run(makeFirstLink)

/** The newest that went wrong in a rehearsal, for its pages. */
function lastNews(house: House): string {
  const view = house.rehearsal.view(house.sight(), null)
  return view.is === 'rehearsal' ? (view.news.at(-1)?.words ?? '') : ''
}
