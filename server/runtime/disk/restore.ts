import { existsSync, mkdirSync, rmSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { refuseLater, standingIn } from '#db/steps'
import type { TellCopy } from './backup'
import { checkDatabase } from './copy-database'
import { copyFile } from './copy-files'
import { DATABASE } from './house-files'
import { readManifest } from './manifest'
import { narrowHouse } from './owner-alone'
import { refuseFullDisk } from './room'
import { refuseOtherKey } from './sealed-by'
import { beginSwap, type SwapWishes, wordsOf } from './swap'

export interface RestoreWishes extends Omit<SwapWishes, 'mayHold' | 'as'> {
  migrationsDir: string
  /** Told what is being done and how far it is. */
  tell?: TellCopy
}

/**
 * Puts a copy into `dataDir`. It is copied and checked beside the house that stands there, and takes its place only when it
 * is whole. Answers where the former house is, or null. Throws, in words, at whatever is wrong; the former house stands then.
 */
export function restoreBackup(
  fromDir: string,
  dataDir: string,
  { migrationsDir, tell = () => {}, ...wishes }: RestoreWishes,
): string | null {
  const { files } = readManifest(fromDir)
  const paths = Object.keys(files)
  for (const path of paths) if (!existsSync(join(fromDir, path))) throw new Error(`The copy is not whole: ${path} is missing.`)
  refuseFullDisk(
    dataDir,
    paths.reduce((sum, path) => sum + statSync(join(fromDir, path)).size, 0),
  )
  const swap = beginSwap(dataDir, { ...wishes, as: 'npm run restore', mayHold: fromDir })
  try {
    for (const [index, [path, digest]] of Object.entries(files).entries()) {
      tell(`${index} of ${paths.length} files`)
      const to = join(swap.beside, path)
      mkdirSync(dirname(to), { recursive: true, mode: 0o700 })
      wishes.step?.(`copy ${path}`)
      if (copyFile(join(fromDir, path), to) !== digest) throw new Error(`The copy is damaged: ${path} is not what was written.`)
    }
    const database = join(swap.beside, DATABASE)
    refuseLater(standingIn(database, migrationsDir), 'The copy')
    tell('checking the database')
    checkDatabase(database)
    refuseOtherKey(swap.beside)
    for (const name of [`${DATABASE}-wal`, `${DATABASE}-shm`]) rmSync(join(swap.beside, name), { force: true })
    narrowHouse(swap.beside)
  } catch (reason) {
    swap.abandon()
    if (!(reason instanceof Error && 'code' in reason)) throw reason
    throw new Error(`The copy could not be read into ${dataDir}: ${wordsOf(reason)}. The house there was not touched.`, { cause: reason })
  }
  return swap.commit()
}
