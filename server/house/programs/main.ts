import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { openMachine } from '#runtime/queue/machine'
import { wallClock } from '#runtime/queue/stamp'
import { readConfig } from '#runtime/settings/config'
import { publishingOf } from '../open/machines-of'
import { DISK_FAILED, endOvertaken, stopOnSignal } from './ending'
import { firstLink, serve } from './serve'
import { startWords } from './start-words'

async function main(): Promise<void> {
  writeForOwnerAlone()
  const config = readConfig()
  const machine = openMachine()
  const has = (flag: string) => process.argv.includes(flag)
  const served = await serve({
    config,
    clock: wallClock(machine),
    machine,
    isDev: has('--dev'),
    isClockRight: has('--clock-is-right'),
    mayLoseLog: has('--lose-the-damaged-log'),
    // Every screen is told first; then whoever watches over the program opens it again, and looks at the disk.
    ended: () => setTimeout(() => process.exit(DISK_FAILED), 1_000),
    openPublishing: publishingOf(config, {
      isAlone: has('--alone'),
      beginsAnew: has('--begin-anew'),
      ended: endOvertaken,
    }),
  })
  stopOnSignal(served)
  if (config.isDemo) return
  const link = await firstLink(served.house)
  if (link) process.stdout.write(`\nNobody is the maker yet. Open this within an hour to become it; it is good once:\n  ${link}\n\n`)
}

main().catch((reason) => {
  process.stderr.write(`${startWords(reason)}\n`)
  process.exit(1)
})
