import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, rmSync } from 'node:fs'
import { open, rename } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { Refusal } from '#kernel/refusal'

export const PHOTOGRAPH_WIDTHS = [480, 960, 1600] as const
export const MOST_PHOTOGRAPH_BYTES = 15 * 1024 * 1024
const MOST_PIXELS = 64_000_000
const TAKEN = ['jpeg', 'png', 'webp'] as const

// Only what a camera or a scanner makes is ever decoded.
sharp.block({ operation: ['VipsForeignLoad'] })
sharp.unblock({ operation: ['VipsForeignLoadJpegBuffer', 'VipsForeignLoadPngBuffer', 'VipsForeignLoadWebpBuffer'] })

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

export function openPhotographs(dir: string): PhotographFolder {
  mkdirSync(dir, { recursive: true })
  return {
    async keep(bytes) {
      if (bytes.byteLength === 0) throw Refusal.at('photograph', 'The photograph is empty. Take it again.')
      if (bytes.byteLength > MOST_PHOTOGRAPH_BYTES)
        throw Refusal.at('photograph', 'A photograph may have 15 MB at most. Take a smaller one.', 'too-large')
      const sha = createHash('sha256').update(bytes).digest('hex')
      try {
        const picture = sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'error' })
        const { format } = await picture.metadata()
        if (!TAKEN.some((taken) => taken === format)) throw new Error(`${format} is not taken`)
        const upright = await picture.rotate().toBuffer({ resolveWithObject: true })
        for (const width of PHOTOGRAPH_WIDTHS) {
          const small = await sharp(upright.data).resize({ width, withoutEnlargement: true }).webp({ quality: 80 }).toBuffer()
          await writeSynced(join(dir, `${sha}-${width}.webp`), small)
        }
        return { sha, width: upright.info.width, height: upright.info.height }
      } catch (cause) {
        if (cause instanceof Error && 'code' in cause) throw cause
        throw Refusal.at('photograph', 'This is not a picture that can be read. Send a JPEG, PNG or WebP photograph.')
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
async function writeSynced(file: string, bytes: Uint8Array): Promise<void> {
  if (existsSync(file)) return
  const handle = await open(`${file}.part`, 'w')
  await handle.writeFile(bytes)
  await handle.sync()
  await handle.close()
  await rename(`${file}.part`, file)
}
