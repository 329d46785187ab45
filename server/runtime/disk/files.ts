import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs'
import { open, rename } from 'node:fs/promises'
import { join } from 'node:path'
import { Refusal } from '#kernel/refusal'
import { openPixelGate, type PixelGate } from './pixel-gate'
import { freeOn } from './spare'

export const PHOTOGRAPH_WIDTHS = [480, 960, 1600] as const
export const MOST_PHOTOGRAPH_BYTES = 15 * 1024 * 1024
const MOST_PIXELS = 64_000_000
const TAKEN = ['jpeg', 'png', 'webp'] as const
/** As many as one of the largest has. */
const PIXELS_AT_ONCE = MOST_PIXELS
/** Photographs that are worked on or wait for it, each with its whole file in memory. */
const MOST_AT_ONCE = 10

let sharpRead: Promise<typeof import('sharp').default> | null = null

/** The library is read with the first photograph: the first bid after a start does not wait for it. */
function readSharp(): NonNullable<typeof sharpRead> {
  sharpRead ??= import('sharp').then(({ default: sharp }) => {
    // Only what a camera or a scanner makes is ever decoded.
    sharp.block({ operation: ['VipsForeignLoad'] })
    sharp.unblock({ operation: ['VipsForeignLoadJpegBuffer', 'VipsForeignLoadPngBuffer', 'VipsForeignLoadWebpBuffer'] })
    return sharp
  })
  return sharpRead
}

/** Under this much free room photographs wait: what is left is for bids, readings and money. */
const LEFT_FOR_OTHERS_BYTES = 64 * 1024 * 1024
const NEARLY_FULL =
  'The disk of this house is nearly full, so no photographs can be added until there is room. Everything else carries on; tell the maker.'

export interface KeptPhotograph {
  sha: string
  width: number
  height: number
}

export interface PhotographFolder {
  /** Re-encodes at three widths without metadata and keeps the files under the hash of what came; refuses what is not a picture. */
  keep(bytes: Uint8Array): Promise<KeptPhotograph>
  /** The file of a photograph at a width, or null. */
  find(sha: string, width: number): string | null
  /** Deletes the files of photographs that no row names any more. */
  drop(shas: readonly string[]): void
}

export function openPhotographs(
  dir: string,
  gate: PixelGate = openPixelGate(PIXELS_AT_ONCE),
  free: (dir: string) => number = freeOn,
): PhotographFolder {
  mkdirSync(dir, { recursive: true })
  // What was being written when an earlier run ended.
  for (const name of readdirSync(dir)) if (name.endsWith('.part')) rmSync(join(dir, name), { force: true })
  /** What is worked on or waits for it: one picture that is sent twice at once is one work. */
  const underWay = new Map<string, Promise<KeptPhotograph>>()

  const keepAs = async (sha: string, bytes: Uint8Array): Promise<KeptPhotograph> => {
    const sharp = await readSharp()
    const picture = () => sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'error' })
    // Of the head alone, so that one that is too large is told so.
    const { format, width, height, orientation = 1 } = await sharp(bytes, { limitInputPixels: false }).metadata()
    if (!TAKEN.some((taken) => taken === format) || !width || !height) throw new Error(`${format} is not taken`)
    if (width * height > MOST_PIXELS) throw Refusal.at('photograph', 'A photograph may have 64 million pixels at most. Take a smaller one.')
    // Turned by a quarter where the camera says so (EXIF orientations 5 to 8).
    const [across, down] = orientation > 4 ? [height, width] : [width, height]
    await gate.through(across * down, async () => {
      for (const size of PHOTOGRAPH_WIDTHS) {
        // Each straight from the file: a JPEG is decoded no larger than it is wanted, and nothing is encoded twice.
        const small = await picture().rotate().resize({ width: size, withoutEnlargement: true }).webp({ quality: 80 }).toBuffer()
        await writeSynced(join(dir, `${sha}-${size}.webp`), small)
      }
    })
    return { sha, width: across, height: down }
  }
  return {
    async keep(bytes) {
      if (bytes.byteLength === 0) throw Refusal.at('photograph', 'The photograph is empty. Take it again.')
      if (bytes.byteLength > MOST_PHOTOGRAPH_BYTES)
        throw Refusal.at('photograph', 'A photograph may have 15 MB at most. Take a smaller one.', 'too-large')
      if (free(dir) < LEFT_FOR_OTHERS_BYTES) throw Refusal.at('photograph', NEARLY_FULL, 'no-room')
      const sha = createHash('sha256').update(bytes).digest('hex')
      const before = underWay.get(sha)
      if (!before && underWay.size >= MOST_AT_ONCE)
        throw Refusal.at('photograph', 'Many photographs are being processed just now. Send it again in a minute.', 'too-many')
      const work = before ?? keepAs(sha, bytes)
      underWay.set(sha, work)
      try {
        return await work
      } catch (cause) {
        if (cause instanceof Error && 'code' in cause && cause.code === 'ENOSPC') throw Refusal.at('photograph', NEARLY_FULL, 'no-room')
        if (cause instanceof Error && 'code' in cause) throw cause
        throw Refusal.at('photograph', 'This is not a picture we can read. Send a JPEG, PNG or WebP photograph.')
      } finally {
        underWay.delete(sha)
      }
    },
    drop(shas) {
      for (const sha of shas) for (const width of PHOTOGRAPH_WIDTHS) rmSync(join(dir, `${sha}-${width}.webp`), { force: true })
    },
    find(sha, width) {
      if (!/^[0-9a-f]{64}$/.test(sha) || !PHOTOGRAPH_WIDTHS.some((known) => known === width)) return null
      const file = join(dir, `${sha}-${width}.webp`)
      return existsSync(file) ? file : null
    },
  }
}

/** Whole or not at all: a temporary name, synced, then renamed. */
export async function writeSynced(file: string, bytes: Uint8Array): Promise<void> {
  if (existsSync(file)) return
  const handle = await open(`${file}.part`, 'w')
  try {
    await handle.writeFile(bytes)
    await handle.sync()
  } catch (reason) {
    rmSync(`${file}.part`, { force: true })
    throw reason
  } finally {
    await handle.close()
  }
  await rename(`${file}.part`, file)
}
