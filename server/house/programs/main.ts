import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { openMachine } from '#runtime/queue/machine'
import { wallClock } from '#runtime/queue/stamp'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { logWhatIsPrinted } from '#runtime/settings/printed'
import { publishingOf } from '../open/machines-of'
import { endOfDisk, endOnSignal, endOvertaken, endUnopened, stopOnSignal } from './ending'
import { say } from './saying'
import { firstLink, serve } from './serve'

async function main(): Promise<void> {
  writeForOwnerAlone()
  endOnSignal()
  const config = readConfig()
  const machine = openMachine()
  const has = (flag: string) => process.argv.includes(flag)
  if (!has('--dev')) logWhatIsPrinted(openLog(config.logLevel))
  const served = await serve({
    config,
    clock: wallClock(machine),
    machine,
    isDev: has('--dev'),
    isClockRight: has('--clock-is-right'),
    mayLoseLog: has('--lose-the-damaged-log'),
    isAlone: has('--alone'),
    ended: endOfDisk,
    openPublishing: publishingOf(config, {
      isAlone: has('--alone'),
      beginsAnew: has('--begin-anew'),
      ended: endOvertaken,
    }),
  })
  stopOnSignal(served)
  if (config.isDemo) return
  const link = await firstLink(served.house)
  if (link) say('There is no maker yet. Open this within an hour to become the maker; it works once:', { link })
}

main().catch(endUnopened)
