import { existsSync, statfsSync } from 'node:fs'
import { dirname, resolve } from 'node:path'

/** What stays free, so that whatever else writes there can go on. */
const LEFT_FREE_BYTES = 32 * 1024 * 1024

/** Refuses, before anything is written, what would not find room on the disk of a folder that need not be there yet. */
export function refuseFullDisk(dir: string, bytes: number, freeOn: (dir: string) => number = freeBytes): void {
  let there = resolve(dir)
  while (!existsSync(there)) there = dirname(there)
  const free = freeOn(there)
  if (bytes + LEFT_FREE_BYTES > free)
    throw new Error(
      `It needs ${megabytes(bytes + LEFT_FREE_BYTES)} MB of room, and on the disk of ${there} there are ${megabytes(free)} MB. Nothing was changed. Make room there first.`,
    )
}

function freeBytes(dir: string): number {
  const { bavail, bsize } = statfsSync(dir)
  return bavail * bsize
}

const megabytes = (bytes: number): number => Math.ceil(bytes / 1024 / 1024)
