import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRunning } from '#runtime/disk/running'

const NAME = /^tagstrip-drill-(\d+)-/

/** A folder for one drill, for its owner alone: the keys of the house lie in it. Those of drills that were killed are taken away. */
export function makeScratch(within = tmpdir()): string {
  for (const name of readdirSync(within)) {
    const pid = NAME.exec(name)?.[1]
    if (pid !== undefined && !isRunning(Number(pid))) rmSync(join(within, name), { recursive: true, force: true })
  }
  return mkdtempSync(join(within, `tagstrip-drill-${process.pid}-`))
}
