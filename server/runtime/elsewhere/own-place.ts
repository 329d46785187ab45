import { createHash, randomUUID } from 'node:crypto'
import { readFileSync, realpathSync, statSync } from 'node:fs'
import { hostname } from 'node:os'
import { join } from 'node:path'
import type { CopyTo } from '../settings/copy-to.rules'
import { DATABASE_FOLDER } from './chain.rules'
import { openHouseBytes } from './house-bytes'
import { MARK_FILE, type Mark, markBytes, readMark } from './mark.rules'
import type { Place } from './place'

/** What is known of the database there, as the mark says it. */
export interface Known {
  generation: string | null
  last: string | null
  goodUntil: number | null
}

/** The mark has gone, and with it the copy: the next hold begins a new one. */
export class CopyGone extends Error {}

export interface OwnPlace {
  isOurs(): boolean
  /** The mark that lay there when it was taken, which says what can be read back until there is something newer. */
  earlier(): Mark | null
  /** Makes sure that the place is this house's and nobody else writes there, and renews its mark. Throws, in words, where it is not. */
  hold(known: Known, atOnce?: boolean): Promise<boolean>
  /** Writes at once what is known, where something depends on it. */
  note(known: Known): Promise<void>
}

interface OwnPlaceParts {
  place: Place
  to: CopyTo
  /** The name of the first key of the house. */
  house: string
  dataDir: string
  lastMigration: string
  /** Generations of the database that this folder has begun: what lies there of them is a leftover of our own. */
  ourGenerations?(): readonly string[]
  /** How long somebody else who wrote there is watched before the place is taken over. */
  watchMs?: number
}

const RENEWED_EVERY_MS = 10_000
/** Longer than twice as long as it takes to renew a mark. */
const WATCH_MS = 25_000

/** Says of a place whose it is, so that no house ever writes over the copy of another one, nor beside another process of the same. */
export function openOwnPlace({
  place,
  to,
  house,
  dataDir,
  lastMigration,
  ourGenerations = () => [],
  watchMs = WATCH_MS,
}: OwnPlaceParts): OwnPlace {
  const writer = createHash('sha256')
    .update(`${hostname()}\n${realpathSync(dataDir)}`)
    .digest('hex')
    .slice(0, 16)
  const { version: program } = JSON.parse(readFileSync(join(process.cwd(), 'package.json'), 'utf8')) as { version: string }
  const houseBytes = openHouseBytes(dataDir)
  let isOurs = false
  let isLost = false
  let earlier: Mark | null = null
  let renewedAt = Number.NEGATIVE_INFINITY
  let beat = ''
  let device: number | null = null
  let seen: { beat: string; since: number } | null = null

  const note = async ({ generation, last, goodUntil }: Known) => {
    beat = randomUUID()
    const goodUntilText = goodUntil === null ? null : new Date(goodUntil).toISOString()
    const base = { format: 1, house, writer, beat, program, lastMigration, bytes: await houseBytes() } as const
    // Until something newer is whole, what lies there from before is what can be read back.
    const known = generation === null && earlier !== null ? pick(earlier) : { generation, last, goodUntil: goodUntilText }
    await place.write(MARK_FILE, markBytes({ ...base, ...known }))
    renewedAt = performance.now()
  }

  const take = async (known: Known): Promise<boolean> => {
    refuseOtherDisk()
    const bytes = await place.read(MARK_FILE)
    const mark = bytes === null ? null : readMark(bytes)
    if (mark === null && !areOurs(await place.list(DATABASE_FOLDER)))
      throw new Error('it holds something that is not a copy of a house. Set COPY_TO to an empty folder; nothing there was changed')
    if (mark !== null && mark.house !== house)
      throw new Error(
        `it holds a copy of another house, whose first key is ${mark.house}; this one's is ${house}. Set COPY_TO to another place; nothing there was changed`,
      )
    if (mark !== null && mark.writer !== writer && !isSilent(mark))
      throw new Error(
        'it was last written by this house on another machine or in another folder, and it is being watched whether that still writes. If it does, close one of the two, or set COPY_TO to another place',
      )
    earlier = mark
    await note(known)
    if (to.kind === 'folder') device = statSync(to.path).dev
    isOurs = true
    return true
  }

  const areOurs = (paths: readonly string[]): boolean => {
    const ours = ourGenerations()
    return paths.every((path) => ours.some((generation) => path.startsWith(`generations/${generation}/`)))
  }

  /** Whoever wrote it renews it all the time; when nobody has for a while, nobody is there. */
  const isSilent = (mark: Mark): boolean => {
    if (seen?.beat !== mark.beat) seen = { beat: mark.beat, since: performance.now() }
    return performance.now() - seen.since > watchMs
  }

  const refuseOtherDisk = () => {
    if (to.kind !== 'folder' || device === null) return
    if (statSync(to.path, { throwIfNoEntry: false })?.dev !== device)
      throw new Error('another disk lies there than the one that the copy was on. Mount that one again')
  }

  return {
    isOurs: () => isOurs,
    earlier: () => earlier,
    note,
    async hold(known, atOnce = false) {
      if (isLost) throw new Error(TAKEN)
      if (!isOurs) return take(known)
      refuseOtherDisk()
      if (!atOnce && performance.now() - renewedAt < RENEWED_EVERY_MS) return true
      const bytes = await place.read(MARK_FILE)
      const mark = bytes === null ? null : readMark(bytes)
      if (mark === null) {
        isOurs = false
        throw new CopyGone('the copy that lay there has gone. If its disk is not mounted, mount it; else a new one is begun')
      }
      if (mark.house !== house || mark.writer !== writer) {
        isOurs = false
        isLost = true
        throw new Error(TAKEN)
      }
      await note(known)
      return true
    },
  }
}

const TAKEN =
  'another machine writes the copy there since. This house writes nothing there any more; see to it that only one of the two is open, and start it again'

const pick = ({ generation, last, goodUntil }: Mark) => ({ generation, last, goodUntil })
