import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync, statfsSync, writeSync } from 'node:fs'
import { join } from 'node:path'

export const SPARE_FILE = 'spare-room'
const SPARE_BYTES = 16 * 1024 * 1024
const PIECE = Buffer.alloc(1024 * 1024, 0x5a)

/** Room that is kept so that it can be let go: with it the house goes on closing lots and taking bids while somebody makes room. */
export interface Spare {
  /** Takes the room where there is plenty of it, and does nothing where there is not. */
  keep(): void
  /** Gives it back to the disk. Answers false where there was none. */
  letGo(): boolean
}

/** Bytes that are free for the house on the disk of a folder. */
export function freeOn(dir: string): number {
  const { bavail, bsize } = statfsSync(dir)
  return bavail * bsize
}

export function openSpare(dataDir: string, bytes: number = SPARE_BYTES, free: (dir: string) => number = freeOn): Spare {
  const file = join(dataDir, SPARE_FILE)
  rmSync(`${file}.part`, { force: true })
  return {
    keep() {
      if (existsSync(file) || free(dataDir) < 8 * bytes) return
      try {
        const made = openSync(`${file}.part`, 'w', 0o600)
        for (let written = 0; written < bytes; written += PIECE.byteLength) writeSync(made, PIECE)
        fsyncSync(made)
        closeSync(made)
        renameSync(`${file}.part`, file)
      } catch {
        // Whoever fills a disk meanwhile has it; the next time is in a minute.
        rmSync(`${file}.part`, { force: true })
      }
    },
    letGo() {
      const wasThere = existsSync(file)
      rmSync(file, { force: true })
      return wasThere
    },
  }
}
