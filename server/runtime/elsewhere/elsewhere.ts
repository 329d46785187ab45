import { existsSync, mkdirSync, realpathSync, statSync } from 'node:fs'
import { join, resolve, sep } from 'node:path'
import type Database from 'better-sqlite3'
import { DATABASE, ELSEWHERE } from '../disk/house-files'
import { firstKeyIn } from '../disk/keys'
import type { CopySettings } from '../settings/copy-settings'
import { copyToWords } from '../settings/copy-to.rules'
import type { Log } from '../settings/log'
import { type CopyState, copyStateOf, NO_COPY } from './copy-age.rules'
import { type DatabaseThere, openDatabaseThere } from './database-there'
import { openLanes } from './lanes'
import { endOrphan, findLitestream, openReplicator, type Replicator } from './litestream'
import { openPlace } from './open-place'
import { CopyGone, openOwnPlace } from './own-place'
import { openPhotographsThere } from './photographs-there'
import { KEYS_FILE, newPassphrase, sealKeys, stateOfKeys } from './sealed-keys'

/** A copy of the house that is kept elsewhere, always. */
export interface Elsewhere {
  state(): CopyState
  start(): void
  /** Lets go of the database at once, for who writes its file anew. The copying goes on by itself. */
  letGo(): void
  /** After the last command: what is left is brought there, within some seconds. */
  stop(): Promise<void>
}

/** Of a house of which no copy is kept elsewhere. */
export const NOWHERE: Elsewhere = { state: () => NO_COPY, start: () => {}, letGo: () => {}, stop: async () => {} }

export interface ElsewhereParts {
  dataDir: string
  copy: CopySettings
  handle: Database.Database
  /** Whether a row of the house names a photograph still. */
  isNamed(sha: string): boolean
  log: Log
}

const LONGEST_GOODBYE_MS = 5_000
const WATCHED_EVERY_MS = 1_000
const SAME_DISK = 'It lies on the same disk as the house: when that disk dies, both are gone.'

/**
 * Throws, in words, where the settings alone make it impossible. What is wrong with the place is no reason to keep a house shut:
 * it opens, the staff and the log are told, and the copying begins when the place is right.
 */
export function openElsewhere({ dataDir, copy, handle, isNamed, log }: ElsewhereParts): Elsewhere {
  const { to, means } = copy
  const passphrase = newPassphrase(copy.passphrase)
  const program = findLitestream(means.litestream)
  if (to.kind === 'folder') refuseWithin(dataDir, to.path)
  const beside = join(resolve(dataDir), ELSEWHERE)
  const keysDir = join(dataDir, 'keys')
  const place = openPlace(to, means)
  const lastMigration = String(handle.prepare('SELECT max(name) FROM migration').pluck().get())
  const own = openOwnPlace({
    place,
    to,
    house: firstKeyIn(keysDir) ?? '',
    dataDir,
    lastMigration,
    ourGenerations: () => there.generations(),
  })
  const there: DatabaseThere = openDatabaseThere({ place, to, beside, own })
  const photographs = openPhotographsThere(join(dataDir, 'photographs'), isNamed)
  let replicator: Replicator | null = null
  let sealedState: string | null = null
  let since = Date.now()
  let said: string | null = null
  let watch: NodeJS.Timeout | null = null
  let isStopped = false

  const checkpoints = (pages: number) => handle.open && handle.pragma(`wal_autocheckpoint = ${pages}`)
  const replicate = () => {
    if (replicator) return
    mkdirSync(there.folder, { recursive: true, mode: 0o700 })
    replicator = openReplicator({
      program,
      beside,
      database: resolve(dataDir, DATABASE),
      into: there.folder,
      // Litestream takes the log into the database itself, when it has copied it: whoever does it before makes it begin anew.
      began: () => checkpoints(0),
      ended: () => checkpoints(1000),
    })
  }
  const cease = async () => {
    await replicator?.stop()
    replicator = null
  }

  const lanes = () =>
    openLanes([
      {
        name: 'place',
        everyMs: 1_000,
        async work() {
          try {
            const isNew = !own.isOurs()
            if (isNew) await cease()
            await own.hold(there.known())
            // Litestream remembers what it wrote, and where that has gone a whole copy is wanted.
            if (isNew && own.earlier() === null) there.beginAnew()
            replicate()
          } catch (reason) {
            // What waits to be sent waits on this machine; what is written straight there is not written to a place that is not ours.
            if (to.kind === 'folder' || !own.isOurs()) await cease()
            if (reason instanceof CopyGone) {
              there.forget()
              photographs.forget()
              sealedState = null
            }
            throw reason
          }
        },
      },
      { name: 'database', everyMs: 250, work: async () => void (own.isOurs() && (await there.bring())) },
      { name: 'snapshots', everyMs: 500, work: async () => void (own.isOurs() && (await there.bringSnapshots())) },
      { name: 'photographs', everyMs: 2_000, work: async () => void (own.isOurs() && (await photographs.bring(place))) },
      {
        name: 'keys',
        everyMs: 5_000,
        async work() {
          const state = stateOfKeys(keysDir)
          if (!own.isOurs() || state === sealedState) return
          await place.write(KEYS_FILE, await sealKeys(keysDir, passphrase))
          sealedState = state
        },
      },
    ])
  let driven: ReturnType<typeof lanes> | null = null

  const at = (words: string | null) => (words === null ? null : `${copyToWords(to)}: ${words}`)
  const state = (): CopyState => {
    const fault = (name: string) => driven?.fault(name) ?? null
    const lost = own.isOurs() ? null : fault('place')
    const lack = fault('keys') ?? fault('photographs')
    const isAlike = to.kind === 'folder' && existsSync(to.path) && statSync(to.path).dev === statSync(dataDir).dev
    return copyStateOf({
      now: Date.now(),
      since,
      bytes: statSync(join(dataDir, DATABASE)).size,
      provenAt: there.provenAt(),
      fault: at(lost ?? fault('place') ?? fault('database') ?? fault('snapshots') ?? replicator?.fault()?.words ?? null),
      lack: at(lost ?? lack),
      note: isAlike ? SAME_DISK : null,
    })
  }
  /** Each trouble is said once when it comes, and once when it has gone. */
  const tell = () => {
    const { trouble } = state()
    if (trouble === said) return
    if (trouble !== null) log.error({ trouble }, 'the copy elsewhere is not kept')
    else log.info('the copy elsewhere is kept again')
    said = trouble
  }

  return {
    state,
    start() {
      since = Date.now()
      endOrphan(beside).then(
        () => {
          if (driven === null && !isStopped) driven = lanes()
        },
        (reason) => log.error({ err: reason }, 'what an earlier house left behind could not be ended'),
      )
      watch = setInterval(tell, WATCHED_EVERY_MS)
      watch.unref()
      if (state().note !== null) log.warn(`COPY_TO: ${SAME_DISK}`)
    },
    letGo: () => replicator?.letGo(),
    async stop() {
      isStopped = true
      if (watch) clearInterval(watch)
      await cease()
      await driven?.stop(LONGEST_GOODBYE_MS)
      try {
        if (own.isOurs()) {
          await there.bring()
          await own.hold(there.known(), true)
        }
      } catch (reason) {
        log.error({ err: reason }, 'the last of the house could not be brought to its copy elsewhere')
      }
      await place.close()
    },
  }
}

/** A copy that lies within the house goes with it. */
function refuseWithin(dataDir: string, path: string): void {
  const [house, copy] = [resolve(dataDir), resolve(path)].map((one) => `${existsSync(one) ? realpathSync(one) : one}${sep}`)
  if (house === undefined || copy === undefined || !(copy.startsWith(house) || house.startsWith(copy))) return
  throw new Error(`COPY_TO is ${path}, and DATA_DIR is ${dataDir}: one lies in the other. Set COPY_TO to a folder on another disk.`)
}
