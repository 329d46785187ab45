import { join } from 'node:path'
import type { Step } from '#db/steps'
import type { Instant } from '#kernel/instant'
import { makeBackupAtOnce } from '#runtime/disk/backup'
import type { Log } from '#runtime/settings/log'

/**
 * Copies the house before its database is changed for this program, under a name that says before which step: with the program of
 * then the copy can be put back. It is never taken away by itself. Throws, in words, where none can be made.
 */
export function copyBeforeSteps({ dataDir, steps, at, log }: { dataDir: string; steps: readonly Step[]; at: Instant; log: Log }): void {
  const [first = ''] = steps
  try {
    const { dir } = makeBackupAtOnce({
      dataDir,
      intoDir: join(dataDir, 'backups'),
      at,
      madeFor: 'a step',
      why: `before-${first.replace(/\.sql$/, '')}`,
    })
    log.info({ dir, steps }, 'the database is changed for this program; a copy of the house as it was has been made')
  } catch (reason) {
    const words = reason instanceof Error ? reason.message : String(reason)
    throw new Error(
      `This program has to change the database in ${dataDir} and makes a copy of the house first, which was not possible. ${words} The house is as it was.`,
      { cause: reason },
    )
  }
}
