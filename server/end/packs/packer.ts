import { existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { toIso } from '#kernel/instant'
import type { Actor, Sight } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import type { Workshop } from '#runtime/workers/workers'
import type { PackMeans } from './contents.service'
import { type PackQuestion, packHouse } from './pack-house'
import type { PackMade, PackNews } from './packs.contract'

export type PackShop = Workshop<PackQuestion, PackMade, PackNews>

/** How far the latest pack is. It is remembered while the house is open. */
export interface Packing extends PackNews {
  state: 'packing' | 'done' | 'stopped' | 'failed'
  fileName: string
  withContacts: boolean
}

export interface Packer {
  /** Begins a pack. Answers false, and begins nothing, while another one is being made. */
  start(sight: Sight, reader: Actor, withContacts: boolean): boolean
  stop(): void
  present(): Packing | null
  /** The file of a pack that is still here, or null. */
  find(fileName: string): string | null
  remove(fileName: string): void
  close(): void
}

declare module '#runtime/call/base' {
  interface Opened {
    /** Makes packs of the house, and keeps them. */
    packer: Packer
  }
}

/** Makes packs on the thread of whoever asks: for tests, and for houses that nobody visits. */
export const packOnThisThread = (means: PackMeans): PackShop => ({
  make: (question, tell) => packHouse(question, means, tell),
  stop: () => {},
  close: () => {},
})

const PACK_NAME = /^[\w-]+\.zip$/

/** Makes the packs of a house, one at a time and on a thread of their own, and keeps them in a folder of its data folder. */
export function openPacker(parts: {
  dataDir: string
  migrationsDir: string
  shop: PackShop
  log: Log
  /** Called when a pack has been written. The pack is shown as done once this has finished. */
  made(pack: PackMade & { fileName: string; byPersonId: string }): Promise<unknown>
}): Packer {
  const { dataDir, migrationsDir, shop, log, made } = parts
  const folder = join(dataDir, 'packs')
  let present: Packing | null = null

  const find = (fileName: string): string | null => {
    const file = join(folder, fileName)
    return PACK_NAME.test(fileName) && existsSync(file) ? file : null
  }

  /** Removes what a thread that was stopped left behind: a copy of the house, and half a pack. */
  const clear = () => {
    if (!existsSync(folder)) return
    for (const name of readdirSync(folder)) if (!PACK_NAME.test(name)) rmSync(join(folder, name), { force: true })
  }
  clear()

  const stop = () => {
    if (present?.state !== 'packing') return
    present.state = 'stopped'
    shop.stop()
    clear()
  }

  return {
    start(sight, reader, withContacts) {
      if (present?.state === 'packing') return false
      mkdirSync(folder, { recursive: true, mode: 0o700 })
      const kind = withContacts ? '' : '-without-contacts'
      const fileName = `pack-${toIso(sight.now).replaceAll(/[:.]/g, '-')}${kind}.zip`
      const mine: Packing = { state: 'packing', fileName, withContacts, done: 0, of: 1, at: '' }
      present = mine
      const { now: at, publicUrl, keys } = sight
      const question = { dataDir, migrationsDir, file: join(folder, fileName), at, publicUrl, jwks: keys.jwks(), kid: keys.kid }
      shop
        .make({ ...question, reader, withContacts }, (news) => Object.assign(mine, news))
        .then((pack) => made({ ...pack, fileName, byPersonId: reader.personId }))
        .then(
          () => {
            mine.state = 'done'
          },
          (reason: unknown) => {
            if (mine.state === 'stopped') return
            mine.state = 'failed'
            log.error({ err: reason }, 'the pack could not be made')
          },
        )
      return true
    },
    stop,
    present: () => present,
    find,
    remove(fileName) {
      const file = find(fileName)
      if (file) rmSync(file)
    },
    close() {
      stop()
      shop.close()
    },
  }
}
