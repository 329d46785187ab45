import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import type Database from 'better-sqlite3'
import type { PhotographFolder } from '#runtime/disk/files'

/** The files of a house, for the one who deletes contact data. */
export interface DataFolder {
  /** Names of the backups that stand beside the database, and of former houses that one was put in the place of. */
  backups(): string[]
  /** Removes the files of these photographs, and everything that was deleted from the database's file too. */
  scrub(photographs: readonly string[]): void
}

declare module '#runtime/call/base' {
  interface Opened {
    dataFolder: DataFolder
  }
}

export function openDataFolder(parts: {
  dataDir: string
  handle: Database.Database
  photographs: PhotographFolder
  letGo(): void
}): DataFolder {
  const { dataDir, handle, photographs, letGo } = parts
  return {
    backups() {
      const dir = join(dataDir, 'backups')
      const former = readdirSync(dataDir).filter((name) => name.startsWith('former-'))
      return [...(existsSync(dir) ? readdirSync(dir) : []), ...former].sort()
    },
    scrub(shas) {
      photographs.drop(shas)
      // Whoever copies the log elsewhere would keep it from being emptied.
      letGo()
      // Until then the pages that rows were deleted from would stay in the file and in its log.
      handle.exec('VACUUM')
      handle.pragma('wal_checkpoint(TRUNCATE)')
    },
  }
}
