import { existsSync, readFileSync, renameSync } from 'node:fs'
import { open } from 'node:fs/promises'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { DATABASE, NOTED_HEADS } from '#runtime/disk/house-files'
import { firstKeyIn } from '#runtime/disk/keys'
import type { Log } from '#runtime/settings/log'

/**
 * What the database held at an instant, in a file beside it: the newest head of each lot's history, and the number of the newest
 * fact. A database knows nothing of what was cut off its end, and each history in it still holds then; the file knows. It is written
 * after the commit, so that it never says more than was kept.
 */
const notedShape = z.object({
  /** The name of the house's first key. */
  house: z.string(),
  at: z.number(),
  /** Of the newest fact. */
  seq: z.int().nonnegative(),
  heads: z.array(z.object({ lotId: z.string(), lot: z.int(), size: z.int().positive(), root: z.string() })),
})
type Noted = z.infer<typeof notedShape>
type Head = Noted['heads'][number]

const MOST_NAMED = 5

/** Throws, in words with what to do, where the database has lost something that it held once. Nothing has been changed by then. */
export function refuseFewerHeads(dataDir: string, mayBeLost: boolean, warn: (words: string) => void): void {
  const noted = readNoted(dataDir, warn)
  // Whatever stands there of another house says nothing of this one.
  if (noted === null || noted.house !== firstKeyIn(join(dataDir, 'keys'))) return
  const missing = missingIn(join(dataDir, DATABASE), noted)
  if (missing.length === 0) return
  const named = missing.length > MOST_NAMED ? [...missing.slice(0, MOST_NAMED), `${missing.length - MOST_NAMED} more`] : missing
  const words = `The database in ${dataDir} has lost what it held at ${new Date(noted.at).toISOString()}: ${named.join('; ')}. Its log was cut short or is gone, or an older file was put in its place.`
  if (mayBeLost) {
    warn(`${words} The house goes on without that, as it was told to.`)
    return
  }
  throw new Error(
    `${words}\nNothing was changed. Copy the whole folder to another disk first. Then put back the newest copy, from backups or from the copy elsewhere: npm run restore -- folder. ` +
      'To go on without what is missing, start with --lose-the-damaged-log; whoever was told that it was stored has to be written to.',
  )
}

export interface NotedHeads {
  /** Notes what is committed now, where anything is new since the last time. It is brought to the disk without anybody waiting for it. */
  note(): void
  /** Nothing is written any more. */
  close(): void
}

export function openNotedHeads(parts: { dataDir: string; handle: Database.Database; now(): Instant; log: Log }): NotedHeads {
  const { dataDir, handle, now, log } = parts
  const file = join(dataDir, NOTED_HEADS)
  const lastSeq = handle.prepare('SELECT coalesce(max(seq), 0) FROM fact').pluck()
  const heads = headsBy(handle)
  let notedSeq: number | null = null
  let isWriting = false
  let isClosed = false

  const write = async (text: string) => {
    const target = await open(`${file}.new`, 'w', 0o600)
    try {
      await target.writeFile(text)
      await target.datasync()
    } finally {
      await target.close()
    }
    // Whoever has the folder after this house may put another one in its place.
    if (!isClosed) renameSync(`${file}.new`, file)
  }

  return {
    note() {
      // What another statement of this connection has not committed is not kept yet.
      if (isWriting || isClosed || handle.inTransaction) return
      const seq = Number(lastSeq.get())
      const house = firstKeyIn(join(dataDir, 'keys'))
      if (seq === notedSeq || house === null) return
      isWriting = true
      const noted: Noted = { house, at: now(), seq, heads: heads() }
      write(`${JSON.stringify(noted)}\n`)
        .then(() => {
          notedSeq = seq
        })
        .catch((reason) => log.debug({ err: reason }, 'the newest heads could not be noted; it is tried again in a second'))
        .finally(() => {
          isWriting = false
        })
    },
    close() {
      isClosed = true
    },
  }
}

/** One look into an index for each lot, however long the histories are. */
function headsBy(handle: Database.Database): () => Head[] {
  const lots = handle.prepare('SELECT id, number FROM lot')
  const newest = handle.prepare('SELECT size, root FROM ledger_head WHERE lot_id = ? ORDER BY size DESC LIMIT 1')
  return () =>
    (lots.all() as { id: string; number: number }[]).flatMap(({ id, number }) => {
      const head = newest.get(id) as Pick<Head, 'size' | 'root'> | undefined
      return head ? [{ lotId: id, lot: number, ...head }] : []
    })
}

function readNoted(dataDir: string, warn: (words: string) => void): Noted | null {
  const file = join(dataDir, NOTED_HEADS)
  if (!existsSync(file)) return null
  try {
    return notedShape.parse(JSON.parse(readFileSync(file, 'utf8')))
  } catch {
    warn(`${file} is not what was written, so nothing tells whether the end of the database was cut off. It is written anew.`)
    return null
  }
}

/** What was noted and is not there, each in words. */
function missingIn(file: string, noted: Noted): string[] {
  if (!existsSync(file)) return ['the whole of it']
  const handle = new Database(file, { readonly: true })
  try {
    const rootAt = handle.prepare('SELECT root FROM ledger_head WHERE lot_id = ? AND size = ?').pluck()
    const newest = handle.prepare('SELECT max(size) FROM ledger_head WHERE lot_id = ?').pluck()
    const lots = noted.heads.flatMap(({ lotId, lot, size, root }) => {
      const there = rootAt.get(lotId, size)
      if (there === root) return []
      if (there !== undefined) return [`the first ${size} entries of lot ${lot} are others now`]
      return [`of lot ${lot} it held ${size} entries, and ${Number(newest.get(lotId) ?? 0)} are there`]
    })
    const facts = noted.seq - Number(handle.prepare('SELECT coalesce(max(seq), 0) FROM fact').pluck().get())
    return facts > 0 ? [...lots, `the last ${facts === 1 ? 'thing' : `${facts} things`} that happened`] : lots
  } catch (reason) {
    // A file from before such tables were there.
    if (reason instanceof Error && reason.message.startsWith('no such table')) return ['all that was noted of it']
    throw reason
  } finally {
    handle.close()
  }
}
