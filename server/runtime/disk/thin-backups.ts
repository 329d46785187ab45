import { existsSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { basename, join } from 'node:path'
import { isPart, listCopies, partOf, processOf } from './manifest'
import { isRunning } from './running'

/** Ends the name of a copy that the house made by itself on the day. Whoever gives it another name keeps it. */
export const OF_THE_DAY = 'of-the-day'

/** Keeps the newest `most` of the copies that the house made by itself on the day. No other is ever taken away. */
export function thinBackups(intoDir: string, most: number): void {
  const ofTheDay = listCopies(intoDir).filter(({ dir, madeFor }) => madeFor === 'the day' && basename(dir).endsWith(`Z-${OF_THE_DAY}`))
  for (const { dir } of ofTheDay.slice(0, Math.max(0, ofTheDay.length - most))) {
    // Renamed first: killed in the middle, what is left does not look like a copy.
    const part = join(intoDir, partOf(basename(dir)))
    renameSync(dir, part)
    rmSync(part, { recursive: true })
  }
}

/** Takes away what copies left that were killed in the middle. What a process is at is left to it, unless it is known that none is. */
export function sweepParts(intoDir: string, isAnyUnderWay = true): void {
  if (!existsSync(intoDir)) return
  for (const name of readdirSync(intoDir))
    if (isPart(name) && !(isAnyUnderWay && isUnderWay(name))) rmSync(join(intoDir, name), { recursive: true, force: true })
}

function isUnderWay(part: string): boolean {
  const pid = processOf(part)
  return pid !== null && isRunning(pid)
}
