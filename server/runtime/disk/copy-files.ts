import { createHash } from 'node:crypto'
import { closeSync, fsyncSync, linkSync, openSync, readSync, statSync, writeSync } from 'node:fs'

// Files of any size, a piece at a time: none is ever in memory as a whole. They are read without waiting for anybody, so on a
// thread that others wait for they have no place.

const PIECE_BYTES = 1024 * 1024
/** What is written is brought to the disk as often as this, so that nobody else who waits for the disk waits for all of it. */
const SYNC_EVERY_BYTES = 2 * 1024 * 1024

/** The SHA-256 of what a file holds, in hexadecimal. */
export function digestOf(file: string): string {
  const sum = createHash('sha256')
  eachPiece(file, (piece) => sum.update(piece))
  return sum.digest('hex')
}

/** Copies into a file that is not there yet, synced, and answers the digest of what was copied. */
export function copyFile(from: string, to: string): string {
  const sum = createHash('sha256')
  const target = openSync(to, 'wx', 0o600)
  let unsynced = 0
  try {
    eachPiece(from, (piece) => {
      sum.update(piece)
      for (let done = 0; done < piece.byteLength; ) done += writeSync(target, piece, done)
      unsynced += piece.byteLength
      if (unsynced < SYNC_EVERY_BYTES) return
      fsyncSync(target)
      unsynced = 0
    })
    fsyncSync(target)
  } finally {
    closeSync(target)
  }
  return sum.digest('hex')
}

/** Gives a file a second name. Answers false where the file system knows no such thing, or has no more of it. */
export function isLinked(from: string, to: string): boolean {
  try {
    linkSync(from, to)
    return true
  } catch {
    return false
  }
}

/** Brings a file, or the names in a folder, to the disk. */
export function syncPath(path: string): void {
  const handle = openSync(path, 'r')
  try {
    fsyncSync(handle)
  } catch (reason) {
    // Some systems and file systems sync no folder.
    if (!statSync(path).isDirectory()) throw reason
  } finally {
    closeSync(handle)
  }
}

/** Reads a file from its beginning to its end; a piece is overwritten by the next. */
export function eachPiece(file: string, each: (piece: Buffer) => void): void {
  const room = Buffer.allocUnsafe(PIECE_BYTES)
  const source = openSync(file, 'r')
  try {
    for (let size = readSync(source, room); size > 0; size = readSync(source, room)) each(room.subarray(0, size))
  } finally {
    closeSync(source)
  }
}
