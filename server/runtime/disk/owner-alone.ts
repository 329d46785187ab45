import { chmodSync, existsSync, lstatSync, readdirSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { isOfTheHouse } from './house-files'

/** Bits by which anybody but the owner may read, write or enter. */
const OTHERS = 0o077
/** The first thing that each program does: whatever it writes from then on is for its owner alone. */
export const writeForOwnerAlone = (): void => {
  process.umask(OTHERS)
}

/**
 * Narrows what others may read of a house in `dataDir` to its owner. Where that cannot be done it throws, in words, with
 * the command that does it.
 */
export function refuseReadableByOthers(dataDir: string, narrow: Narrow = chmodSync): void {
  const left = narrowHouse(dataDir, narrow)
  const [first] = left
  if (first === undefined) return
  const also = left.length > 1 ? ` and ${left.length - 1} more` : ''
  const command = `chmod -R go= ${ofTheHouse(dataDir)
    .map((path) => quoted(resolve(path)))
    .join(' ')}`
  throw new Error(
    `Others on this machine may read ${resolve(first)}${also}, and this could not be changed. As whoever owns it, or as root:\n  ${command}\nIf that changes nothing, the file system keeps no modes: set DATA_DIR to a folder on one that does.`,
  )
}

/** Narrows what can be narrowed, and answers what is left. */
export function narrowHouse(dataDir: string, narrow: Narrow = chmodSync): string[] {
  // Modes say nothing there.
  if (process.platform === 'win32' || !existsSync(dataDir)) return []
  return ofTheHouse(dataDir)
    .flatMap(allBelow)
    .filter(isWide)
    .filter((path) => !isNarrowed(path, narrow))
}

type Narrow = (path: string, mode: number) => void

/** The folder; where other things lie in it, what is the house's in it. */
function ofTheHouse(dataDir: string): string[] {
  const names = readdirSync(dataDir)
  return names.every(isOfTheHouse) ? [dataDir] : names.filter(isOfTheHouse).map((name) => join(dataDir, name))
}

function isNarrowed(path: string, narrow: Narrow): boolean {
  try {
    narrow(path, lstatSync(path).mode & 0o700)
    // Some file systems take the command and keep their modes.
    return !isWide(path)
  } catch {
    return !existsSync(path)
  }
}

/** A file that went away meanwhile, as a log of the database does, is not wide. A link has no mode of its own. */
function isWide(path: string): boolean {
  const stat = lstatSync(path, { throwIfNoEntry: false })
  return stat !== undefined && !stat.isSymbolicLink() && (stat.mode & OTHERS) !== 0
}

function allBelow(path: string): string[] {
  if (!lstatSync(path, { throwIfNoEntry: false })?.isDirectory()) return [path]
  return [path, ...readdirSync(path).flatMap((name) => allBelow(join(path, name)))]
}

const quoted = (path: string): string => (/^[\w./-]+$/.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`)
