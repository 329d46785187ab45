import { existsSync } from 'node:fs'
import { dirname, resolve } from 'node:path'
import { freeOn } from './spare'

/** What stays free, so that whatever else writes there can go on. */
const LEFT_FREE_BYTES = 32 * 1024 * 1024

/** Refuses, before anything is written, what would not find room on the disk of a folder that need not be there yet. */
export function refuseFullDisk(dir: string, bytes: number, free: (dir: string) => number = freeOn): void {
  let there = resolve(dir)
  while (!existsSync(there)) there = dirname(there)
  const has = free(there)
  if (bytes + LEFT_FREE_BYTES > has)
    throw new Error(
      `It needs ${megabytes(bytes + LEFT_FREE_BYTES)} MB of room, and on the disk of ${there} there are ${megabytes(has)} MB. Nothing was changed. Make room there first.`,
    )
}

const megabytes = (bytes: number): number => Math.ceil(bytes / 1024 / 1024)
