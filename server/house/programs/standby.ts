import { join } from 'node:path'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { openMachine } from '#runtime/queue/machine'
import { wallClock } from '#runtime/queue/stamp'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { standBy } from '../open/stand-by'
import { DISK_FAILED, endOvertaken, stopOnSignal } from './ending'
import { serve } from './serve'
import { startWords } from './start-words'

async function main(): Promise<void> {
  writeForOwnerAlone()
  const config = readConfig()
  const machine = openMachine()
  const served = await standBy({
    config,
    migrationsDir: join(process.cwd(), 'db', 'migrations'),
    log: openLog(config.logLevel),
    say: (words) => void process.stdout.write(`${words}\n`),
    ended: endOvertaken,
    goOn: (openPublishing) =>
      serve({
        config,
        clock: wallClock(machine),
        machine,
        isDev: false,
        // The clocks of two machines differ: what this one does carries no instant before the last one that it was told.
        isClockRight: true,
        ended: () => setTimeout(() => process.exit(DISK_FAILED), 1_000),
        openPublishing,
      }),
  })
  stopOnSignal(served)
}

main().catch((reason) => {
  process.stderr.write(`${startWords(reason)}\n`)
  process.exit(1)
})
