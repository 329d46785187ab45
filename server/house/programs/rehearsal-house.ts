import { join } from 'node:path'
import type { FromHouse } from '#air/rehearsal/rehearsal.contract'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { logWhatIsPrinted } from '#runtime/settings/printed'
import { openFastClock } from '../rehearsal/fast-clock'
import { openRehearsal } from '../rehearsal/open-rehearsal'
import { endUnopened } from './ending'
import { serve } from './serve'

// The entry of a rehearsal's house: dist/rehearsal-house.mjs, started by dist/rehearse.mjs and by nobody else.
async function main(): Promise<void> {
  writeForOwnerAlone()
  const { REHEARSAL_BEGINS, REHEARSAL_PACE, REHEARSAL_KEY, REHEARSAL_TROUBLES, ...env } = process.env
  if (!REHEARSAL_BEGINS || !REHEARSAL_KEY) throw new Error('A rehearsal is started by npm run rehearse.')
  // Whatever the house is set to: mail of a rehearsal goes nowhere, and nobody steps in without its key.
  const read = readConfig(env)
  const config = { ...read, host: read.rehearsalHost, smtpUrl: undefined, isDemo: false }
  logWhatIsPrinted(openLog(config.logLevel))
  // It stands until everything does, and never runs ahead of what the house has done by more than a quarter of a second.
  const clock = openFastClock(Number(REHEARSAL_BEGINS), 0, undefined, 250)
  const tell = (message: FromHouse) => void process.send?.(message)
  const served = await serve({
    config,
    clock,
    isDev: false,
    asRehearsal: {
      clock,
      key: REHEARSAL_KEY,
      open: (house) =>
        openRehearsal({
          house,
          clock,
          file: join(config.dataDir, 'notes.jsonl'),
          key: REHEARSAL_KEY,
          hasTroubles: REHEARSAL_TROUBLES === '1',
          tell,
        }),
    },
  })
  clock.setPace(Number(REHEARSAL_PACE))
  served.house.wake()
  tell({ tell: 'open' })
  const stop = () => {
    served.close().then(() => process.exit(0))
    setTimeout(() => process.exit(0), 2000).unref()
  }
  process.once('SIGTERM', stop)
  process.once('SIGINT', () => {})
  process.once('disconnect', stop)
}

main().catch(endUnopened)
