import { createHash } from 'node:crypto'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { Refusal } from '#kernel/refusal'
import { MOST_PHOTOGRAPH_BYTES, writeSynced } from './files'
import { freeOn } from './spare'

const LEFT_FOR_OTHERS_BYTES = 64 * 1024 * 1024
const NEARLY_FULL = 'The disk of this house is nearly full, so files wait until there is room. Everything else goes on; tell the maker.'

/** A table of measurements, or an image for a programmed part: kept to the byte. */
export type KeptFileKind = 'csv' | 'bin'

export interface KeptFileFolder {
  /** Keeps a file under its hash, as it came. */
  keep(bytes: Uint8Array, kind: KeptFileKind): Promise<{ sha: string; kind: KeptFileKind; bytes: number }>
  find(sha: string, kind: KeptFileKind): string | null
}

/** They lie beside the photographs, so that whatever carries those carries them too. */
export function openKeptFiles(dir: string, free: (dir: string) => number = freeOn): KeptFileFolder {
  return {
    async keep(bytes, kind) {
      if (bytes.byteLength === 0) throw Refusal.at('file', 'The file is empty. Choose it again.')
      if (bytes.byteLength > MOST_PHOTOGRAPH_BYTES) throw Refusal.at('file', 'A file may have 15 MB at most.', 'too-large')
      if (free(dir) < LEFT_FOR_OTHERS_BYTES) throw Refusal.at('file', NEARLY_FULL, 'no-room')
      const sha = createHash('sha256').update(bytes).digest('hex')
      try {
        await writeSynced(join(dir, `${sha}.${kind}`), bytes)
      } catch (cause) {
        if (cause instanceof Error && 'code' in cause && cause.code === 'ENOSPC') throw Refusal.at('file', NEARLY_FULL, 'no-room')
        throw cause
      }
      return { sha, kind, bytes: bytes.byteLength }
    },
    find(sha, kind) {
      const file = join(dir, `${sha}.${kind}`)
      return /^[0-9a-f]{64}$/.test(sha) && existsSync(file) ? file : null
    },
  }
}
