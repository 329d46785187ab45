import { join } from 'node:path'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { openMachine } from '#runtime/queue/machine'
import { wallClock } from '#runtime/queue/stamp'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { logWhatIsPrinted } from '#runtime/settings/printed'
import { standBy } from '../open/stand-by'
import { endOfDisk, endOnSignal, endOvertaken, endUnopened, stopOnSignal } from './ending'
import { restoreFrom } from './restore-from'
import { say } from './saying'
import { serve } from './serve'

async function main(): Promise<void> {
  writeForOwnerAlone()
  endOnSignal()
  const config = readConfig()
  const machine = openMachine()
  const log = openLog(config.logLevel)
  logWhatIsPrinted(log)
  const migrationsDir = join(process.cwd(), 'db', 'migrations')
  const served = await standBy({
    config,
    migrationsDir,
    log,
    say,
    ended: endOvertaken,
    fetchCopy: (from) => restoreFrom(from, migrationsDir),
    goOn: (openPublishing) =>
      serve({
        config,
        clock: wallClock(machine),
        machine,
        isDev: false,
        // The clocks of two machines differ: what this one does carries no instant before the last one that it was told.
        isClockRight: true,
        ended: endOfDisk,
        openPublishing,
      }),
  })
  stopOnSignal(served)
}

main().catch(endUnopened)
