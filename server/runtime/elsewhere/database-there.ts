import { existsSync, readdirSync, rmSync } from 'node:fs'
import { readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { CopyTo } from '../settings/copy-to.rules'
import { chainOf, DATABASE_FOLDER, isLitestreams, isSnapshot } from './chain.rules'
import { listFiles } from './folder-place'
import type { Known, OwnPlace } from './own-place'
import type { Place } from './place'

export interface DatabaseThere {
  /** The folder into which Litestream writes: the place itself, or one on this machine from which it is sent. */
  folder: string
  known(): Known
  /** Until when everything is proven to be there; null while nothing is. */
  provenAt(): number | null
  /** Brings there what was added to the log, and looks at how far what is there reaches. */
  bring(): Promise<void>
  bringSnapshots(): Promise<void>
  /** Generations that Litestream remembers here. */
  generations(): string[]
  /** What was there has gone: nothing of it is known any more. */
  forget(): void
  /** The next that is written is a whole copy. Only while Litestream does not run. */
  beginAnew(): void
}

/** How often what is there is read back, and what is there too much taken away. */
const READ_BACK_EVERY_MS = 60_000

/**
 * Litestream writes into a folder, and only there: to a place that is no folder of this machine the house brings the files itself, so
 * that one way of reaching it, with its checks of who is there, serves all that is copied.
 */
export function openDatabaseThere(parts: { place: Place; to: CopyTo; beside: string; own: OwnPlace }): DatabaseThere {
  const { place, to, beside, own } = parts
  const isSent = to.kind !== 'folder'
  const folder = isSent ? join(beside, 'outgoing') : join(to.path, DATABASE_FOLDER)
  /** What was seen at the place, or put there. */
  let there: Set<string> | null = null
  let readBackAt = Number.NEGATIVE_INFINITY
  let generation: string | null = null
  let last: string | null = null
  let provenAt: number | null = null

  const known = (): Known => ({ generation, last, goodUntil: provenAt })
  const here = async () => (existsSync(folder) ? (await listFiles(folder)).filter(isLitestreams) : [])

  const readBack = async () => {
    if (there !== null && performance.now() - readBackAt < READ_BACK_EVERY_MS) return
    const seen = new Set((await place.list(DATABASE_FOLDER)).filter(isLitestreams))
    readBackAt = performance.now()
    there = seen
    // What lies there from before goes only when there is something newer to read back.
    if (generation === null) return
    const wanted = new Set(await here())
    const gone = [...seen].filter((path) => !wanted.has(path))
    await place.remove(gone.map((path) => `${DATABASE_FOLDER}/${path}`))
    for (const path of gone) seen.delete(path)
  }
  const send = async (isOne: (path: string) => boolean) => {
    await readBack()
    const missing = (await here()).filter((path) => isOne(path) && !there?.has(path)).sort()
    await place.put(missing.map((path) => ({ from: join(folder, path), to: `${DATABASE_FOLDER}/${path}` })))
    for (const path of missing) there?.add(path)
  }

  const look = async () => {
    const current = (await readFile(join(beside, 'remembered', 'generation'), 'utf8').catch(() => '')).trim()
    const arrived = (await here()).filter((path) => !isSent || there?.has(path))
    const chain = chainOf(arrived, current)
    const end = chain?.segments.at(-1)
    if (!chain || !end) return
    const { mtimeMs } = await stat(join(folder, end.path))
    if (chain.generation !== generation) await own.note({ generation: current, last: end.path, goodUntil: mtimeMs })
    generation = current
    last = end.path
    provenAt = mtimeMs
  }

  const remembered = join(beside, 'remembered')
  return {
    generations: () => {
      const dir = join(remembered, 'generations')
      return existsSync(dir) ? readdirSync(dir) : []
    },
    forget() {
      there = null
      generation = null
      last = null
      provenAt = null
    },
    beginAnew: () => rmSync(remembered, { recursive: true, force: true }),
    folder,
    known,
    provenAt: () => provenAt,
    async bring() {
      if (isSent) await send((path) => !isSnapshot(path))
      await look()
    },
    async bringSnapshots() {
      if (isSent) await send(isSnapshot)
    },
  }
}
