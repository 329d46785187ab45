import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { dirname, join, relative, resolve, sep } from 'node:path'
import { z } from 'zod'
import { forgetHolds, type Hold, type Holding, holdFolder } from './hold'
import { isOfTheHouse, OF_A_HOUSE, stampOf } from './house-files'

/**
 * Puts one house in the place of another, within the data folder: the folder itself may be a link or a mount point, and nobody
 * need be allowed to write beside it. The new house is built in `incoming-…`. Once it is whole, `swap.json` says what
 * is to be moved where, and from that moment on the new house is the one that stands there: whoever opens the folder next
 * finishes what was begun. What stood there is moved to `former-…`. Nothing of it is deleted.
 */
export interface Swap {
  /** The folder in which the new house is built. */
  beside: string
  /** Puts it in its place. Answers where the former house is, or null where there was none. */
  commit(): string | null
  /** Takes away what was built. The former house stands as it did. */
  abandon(): void
}

export interface SwapWishes {
  at: number
  /** What the process is that does it, for others who want the folder meanwhile: "npm run restore". */
  as: string
  /** Something that may lie in the folder though it is not the house's: the copy that is put back. */
  mayHold?: string
  /** Told before each step, so that a test can stop at any. */
  step?: (name: string) => void
}

const JOURNAL = 'swap.json'
/** What may lie beside a house without being a part of it: the demo's own folder, and what file systems put into a folder. */
const ALSO_THERE: ReadonlySet<string> = new Set(['demo', 'lost+found', '.DS_Store'])

const journalShape = z.strictObject({
  incoming: z.string().regex(/^incoming-[\dTZ-]+$/),
  former: z.string().regex(/^former-[\dTZ-]+$/),
  /** What stood there when the swap was decided. */
  names: z.array(z.enum(OF_A_HOUSE)),
})
type Journal = z.infer<typeof journalShape>

/**
 * Takes the folder, alone, until the swap is committed or abandoned. Refuses, in words and before anything is written, one in
 * which a house cannot be put in the place of another.
 */
export function beginSwap(dataDir: string, { at, as, mayHold, step = () => {} }: SwapWishes): Swap {
  const isNew = !existsSync(dataDir)
  const folder = folderAt(dataDir)
  const hold = holdFolder(folder, 'swaps', as)
  const leave = () => {
    hold.release()
    if (!isNew) return
    forgetHolds(folder)
    rmdirSync(folder)
  }
  try {
    const stamp = stampOf(at)
    const incoming = `incoming-${stamp}`
    const beside = join(folder, incoming)
    prepare(folder, beside, mayHold)
    return {
      beside,
      commit() {
        try {
          syncBelow(beside)
          step('decide')
          const journal: Journal = { incoming, former: freeName(folder, `former-${stamp}`), names: standing(folder) }
          writeJournal(folder, journal)
          try {
            move(folder, journal, step)
          } catch (reason) {
            throw undone(folder, journal, reason)
          }
          return journal.names.length > 0 ? join(dataDir, journal.former) : null
        } finally {
          hold.release()
        }
      },
      abandon() {
        rmSync(beside, { recursive: true, force: true })
        leave()
      },
    }
  } catch (reason) {
    leave()
    throw reason
  }
}

function prepare(folder: string, beside: string, mayHold?: string): void {
  finishSwap(folder)
  refuseOthers(folder, mayHold)
  refuseMounted(folder)
  // Of one that was killed before it was decided.
  for (const name of readdirSync(folder)) if (name.startsWith('incoming-')) rmSync(join(folder, name), { recursive: true })
  mkdirSync(beside, { mode: 0o700 })
}

/** Takes a folder for a house or a command. A swap that was begun there is finished first, and told. */
export function enterFolder(dataDir: string, holding: Holding, as: string, tell: (words: string) => void): Hold {
  if (existsSync(join(dataDir, JOURNAL))) {
    const alone = holdFolder(dataDir, 'swaps', as)
    try {
      const words = finishSwap(dataDir)
      if (words !== null) tell(words)
    } finally {
      alone.release()
    }
  }
  return holdFolder(dataDir, holding, as)
}

/**
 * Finishes a swap that was decided and not ended, since its process was killed. Answers what was done, in words, or null
 * where there was nothing to do. Everybody asks this before a house is opened.
 */
export function finishSwap(dataDir: string): string | null {
  const file = join(dataDir, JOURNAL)
  if (!existsSync(file)) return null
  try {
    const journal = journalShape.parse(JSON.parse(readFileSync(file, 'utf8')))
    move(dataDir, journal)
    return `A house was being put in place in ${dataDir} when its program ended. That is finished now; what stood there before is in ${join(dataDir, journal.former)}.`
  } catch (cause) {
    throw new Error(
      `A house was being put in place in ${dataDir}, and this cannot be finished: ${wordsOf(cause)}. Nothing is lost: each file of the new house is in that folder or in its folder "incoming-…", of the former one in "former-…". See to it that files may be renamed there, and start again.`,
      { cause },
    )
  }
}

/** Each step may be taken again: what has moved already is left where it is. */
function move(folder: string, { incoming, former, names }: Journal, step: (name: string) => void = () => {}): void {
  step('former')
  if (names.length > 0) mkdirSync(join(folder, former), { recursive: true, mode: 0o700 })
  for (const name of names) {
    if (existsSync(join(folder, former, name)) || !existsSync(join(folder, name))) continue
    step(`away ${name}`)
    renameSync(join(folder, name), join(folder, former, name))
  }
  const beside = join(folder, incoming)
  for (const name of existsSync(beside) ? readdirSync(beside) : []) {
    step(`in ${name}`)
    renameSync(join(beside, name), join(folder, name))
  }
  step('sync')
  if (names.length > 0) sync(join(folder, former))
  sync(folder)
  step('end')
  if (existsSync(beside)) rmdirSync(beside)
  rmSync(join(folder, JOURNAL))
  sync(folder)
}

/** When something could not be moved away, what was is moved back, so that the former house stands as it did. */
function undone(folder: string, { incoming, former, names }: Journal, cause: unknown): Error {
  const begun = existsSync(join(folder, incoming)) ? readdirSync(join(folder, incoming)) : []
  const isWholeStill = begun.length > 0 && names.every((name) => existsSync(join(folder, name)) !== existsSync(join(folder, former, name)))
  if (!isWholeStill)
    return new Error(`The new house is only half in place: ${wordsOf(cause)}. Start it again, and that is finished.`, { cause })
  for (const name of names) if (existsSync(join(folder, former, name))) renameSync(join(folder, former, name), join(folder, name))
  rmSync(join(folder, JOURNAL))
  rmSync(join(folder, former), { recursive: true, force: true })
  rmSync(join(folder, incoming), { recursive: true })
  return new Error(
    `The house in ${folder} could not be moved out of the way: ${wordsOf(cause)}. It stands there as before. Set DATA_DIR to a new folder instead.`,
    { cause },
  )
}

function folderAt(dataDir: string): string {
  refuseBelowFile(dataDir)
  const link = lstatSync(resolve(dataDir), { throwIfNoEntry: false })
  if (link?.isSymbolicLink() && !existsSync(dataDir)) throw new Error(`${dataDir} is a link that leads nowhere. Nothing was changed.`)
  if (link && !statSync(dataDir).isDirectory()) throw new Error(`${dataDir} is no folder. Nothing was changed. Set DATA_DIR to a folder.`)
  try {
    mkdirSync(dataDir, { recursive: true, mode: 0o700 })
    accessSync(dataDir, constants.W_OK | constants.X_OK)
  } catch (cause) {
    throw new Error(
      `Nothing can be written to ${dataDir} (${wordsOf(cause)}). Nothing was changed. Set DATA_DIR to a folder of your own.`,
      {
        cause,
      },
    )
  }
  return realpathSync(dataDir)
}

/** A way that leads through a file leads nowhere. */
export function refuseBelowFile(dir: string): void {
  let above = dirname(resolve(dir))
  while (!existsSync(above)) above = dirname(above)
  if (!statSync(above).isDirectory()) throw new Error(`${above} is a file, so there can be no folder ${dir} in it. Nothing was changed.`)
}

function refuseOthers(folder: string, mayHold?: string): void {
  const way = mayHold === undefined || !existsSync(mayHold) ? '' : relative(folder, realpathSync(mayHold))
  const held = way.split(sep)[0]
  const other = readdirSync(folder).find((name) => !isOfTheHouse(name) && !ALSO_THERE.has(name) && name !== held)
  if (other !== undefined)
    throw new Error(
      `${folder} holds something that is not a house's: ${other}. Nothing was changed. Set DATA_DIR to the folder of a house, or to a new one.`,
    )
}

/** A part that is a mount point of its own cannot be moved. */
function refuseMounted(folder: string): void {
  const { dev } = statSync(folder)
  const mounted = standing(folder).find((name) => lstatSync(join(folder, name)).dev !== dev)
  if (mounted !== undefined)
    throw new Error(
      `${join(folder, mounted)} is on a disk of its own and cannot be moved out of the way. Nothing was changed. Set DATA_DIR to a new folder.`,
    )
}

const standing = (folder: string): Journal['names'] => OF_A_HOUSE.filter((name) => lstatSync(join(folder, name), { throwIfNoEntry: false }))

function freeName(folder: string, wanted: string): string {
  let name = wanted
  for (let n = 2; existsSync(join(folder, name)); n += 1) name = `${wanted}-${n}`
  return name
}

/** Written whole and synced under another name first, so that it is there as a whole or not at all. */
function writeJournal(folder: string, journal: Journal): void {
  const file = join(folder, JOURNAL)
  writeFileSync(`${file}.new`, `${JSON.stringify(journal)}\n`, { mode: 0o600, flush: true })
  renameSync(`${file}.new`, file)
  sync(folder)
}

function syncBelow(dir: string): void {
  for (const entry of readdirSync(dir, { withFileTypes: true })) {
    const path = join(dir, entry.name)
    if (entry.isDirectory()) syncBelow(path)
    else sync(path)
  }
  sync(dir)
}

function sync(path: string): void {
  const handle = openSync(path, 'r')
  try {
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}

const codeOf = (reason: unknown): string => (reason instanceof Error && 'code' in reason ? String(reason.code) : '')

export const isFullDisk = (reason: unknown): boolean => ['ENOSPC', 'EDQUOT', 'SQLITE_FULL'].includes(codeOf(reason))

/** What the system says, in words. */
export function wordsOf(reason: unknown): string {
  const code = codeOf(reason)
  if (isFullDisk(reason)) return 'the disk is full'
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') return 'it may not be written to'
  if (code === 'EBUSY' || code === 'EXDEV') return 'a part of it is a disk of its own, or is in use'
  return reason instanceof Error ? reason.message : String(reason)
}
