import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { DATABASE } from '#runtime/disk/house-files'
import { hasSigningKeys, openKeys } from '#runtime/disk/keys'
import { refuseOtherKey } from '#runtime/disk/sealed-by'
import { enterFolder } from '#runtime/disk/swap'
import type { Config } from '#runtime/settings/config'
import { type CopyTo, copyToWords } from '#runtime/settings/copy-to.rules'
import type { Log } from '#runtime/settings/log'
import { type Following, followStream } from '#runtime/standby/following'
import { LEASE_MS, type Lease } from '#runtime/standby/lease'
import type { Machines } from '#runtime/standby/machines'
import { Conflict } from '#runtime/standby/place'
import { checkToldHeads } from '#sale/history/told-heads.service'
import { machinesOf, publishingOf, selfOf } from './machines-of'
import type { HouseParts } from './parts'

const LOOK_MS = 300
/** Looked at no longer ago than this, whoever looks saw the lease pass. */
const CLOSELY_MS = 1_300
const CATCH_UP_MS = 60_000
const TELL_EVERY_MS = 60_000

export interface StandByWishes<T> {
  config: Config
  migrationsDir: string
  log: Log
  say(words: string): void
  /** After it has taken over, another machine did: this one takes nothing any more. */
  ended(words: string): void
  /** Puts in place the copy that COPY_TO keeps, where this machine has none. */
  fetchCopy(from: CopyTo): Promise<unknown>
  /** Opens the house on the copy; rejects with Conflict where another machine was faster. */
  goOn(openPublishing: HouseParts['openPublishing']): Promise<T>
}

/** Follows the machine that writes for as long as it does, then goes on in its place. */
export async function standBy<T>(wishes: StandByWishes<T>): Promise<T> {
  const { natsUrls } = wishes.config
  if (natsUrls.length === 0)
    throw new Error(
      'NATS_URL is not set: without it nothing tells this machine what the house does. Set it to the same as on the other one.',
    )
  await haveCopy(wishes)
  for (;;) {
    const served = await standByOnce(wishes)
    if (served !== null) return served
  }
}

async function haveCopy<T>({ config: { dataDir, copy }, fetchCopy, say }: StandByWishes<T>): Promise<void> {
  if (existsSync(join(dataDir, DATABASE)) && hasSigningKeys(join(dataDir, 'keys'))) return
  if (copy === null)
    throw new Error(
      `There is no copy of the house in ${dataDir}. Set COPY_TO and its passphrase as on the machine that writes, and the copy that is kept there is fetched. Or make one on that machine (npm run backup), carry it here with its keys, and put it in place: npm run restore -- folder.`,
    )
  say(`There is no copy of the house in ${dataDir}. It is fetched from ${copyToWords(copy.to)}.`)
  await fetchCopy(copy.to)
}

/** Follows until the one that writes is gone, and goes on in its place. Null where another machine was faster, or not all could be heard. */
async function standByOnce<T>(wishes: StandByWishes<T>): Promise<T | null> {
  const { config, migrationsDir, log, say } = wishes
  const { dataDir } = config
  const hold = enterFolder(dataDir, 'lives', 'a machine that stands by', say)
  let machines: Machines | null = null
  let following: Following | null = null
  let renewing: NodeJS.Timeout | null = null
  let telling: NodeJS.Timeout | null = null
  try {
    refuseOtherKey(dataDir)
    const keys = openKeys(join(dataDir, 'keys'))
    const reached = await machinesOf(config, keys, selfOf(config))
    machines = reached
    const { stream, lease } = reached
    following = await followStream({
      file: join(dataDir, DATABASE),
      migrationsDir,
      keys,
      stream,
      log,
      check: checkToldHeads,
    })
    say(
      `Standing by. What was done is kept on ${stream.replicas === 1 ? 'one server: if that is lost, so is what only it held' : `${stream.replicas} servers`}.`,
    )
    const copy = following
    telling = setInterval(() => void lease.standsBy(copy.number()).catch(() => {}), LEASE_MS / 3)
    await Promise.race([following.broken, leaseOf(lease, following, say)])
    clearInterval(telling)
    renewing = setInterval(() => void lease.take().catch(() => {}), LEASE_MS / 3)
    if (!(await hasCaughtUp(following, say))) return null
    const newest = newestWords(following)
    await following.takeOver()
    hold.release()
    const served = await takeOver(wishes, reached)
    if (served !== null) say(`This machine writes now. ${newest} Photographs are those of its copy: newer ones lie on the other machine.`)
    return served
  } finally {
    if (telling) clearInterval(telling)
    if (renewing) clearInterval(renewing)
    if (following) await following.stop()
    if (machines && !machines.isGivenAway()) {
      await machines.lease.release().catch(() => {})
      await machines.close()
    }
    hold.release()
  }
}

/** What it has not heard it cannot go on from; it lets the lease go, and tries from the beginning. */
async function hasCaughtUp(following: Following, say: (words: string) => void): Promise<boolean> {
  try {
    await following.caughtUp(CATCH_UP_MS)
    return true
  } catch (reason) {
    if (reason instanceof Conflict) throw reason
    say(reason instanceof Error ? reason.message : String(reason))
    return false
  }
}

async function takeOver<T>({ config, say, goOn, ended }: StandByWishes<T>, reached: Machines): Promise<T | null> {
  try {
    return await goOn(publishingOf(config, { isAlone: false, beginsAnew: false, reached, ended }))
  } catch (reason) {
    if (!(reason instanceof Conflict)) throw reason
    say(`Another machine was faster: ${reason.message}`)
    return null
  }
}

/** Waits until nobody has the lease, and takes it. */
async function leaseOf(lease: Lease, following: Following, say: (words: string) => void): Promise<void> {
  let heldAt = performance.now()
  let lookedAt = performance.now()
  let freeSince: number | null = null
  let toldAt = 0
  let toldOf = ''
  for (;;) {
    try {
      const holder = await lease.holder()
      const now = performance.now()
      // Whoever could not look for a while does not know whether the others could renew it meanwhile.
      if (holder !== null || now - lookedAt > CLOSELY_MS) freeSince = null
      lookedAt = now
      if (holder !== null) {
        heldAt = now
        if (holder.id !== toldOf || now - toldAt > TELL_EVERY_MS) {
          say(`${holder.name} writes, at ${holder.address}. ${newestWords(following)}`)
          toldAt = now
          toldOf = holder.id
        }
      } else {
        freeSince ??= now
        const sawItPass = freeSince - heldAt < CLOSELY_MS
        if ((sawItPass || now - freeSince > LEASE_MS) && (await lease.take()).id === lease.self.id) return
      }
    } catch {
      // NATS is not reached: nothing is taken over then.
    }
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS))
  }
}

const newestWords = (following: Following): string => {
  const at = following.newestAt()
  return at === null
    ? `The copy is at message ${following.number()}; nothing has come since this machine stands by.`
    : `The newest that it knows was done at ${new Date(at).toISOString()} (message ${following.number()}).`
}
