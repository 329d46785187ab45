import { join } from 'node:path'
import { openDatabase } from '#db/open'
import { stepsIn } from '#db/steps'
import { copyBeforeSteps } from '#house/open/copy-before-steps'
import { openLog } from '#runtime/settings/log'
import { sealingSteps } from '#sale/lots/sealing-steps'

// A house that takes the steps it misses, and dies in the middle of the one that calls `die`: dataDir, folder of the steps.
const [, , dataDir = '', migrationsDir = ''] = process.argv
const functions = {
  ...sealingSteps({ seal: () => new Uint8Array(32) }),
  die: () => {
    process.kill(process.pid, 'SIGKILL')
    return ''
  },
}
process.stdout.write(`${stepsIn(migrationsDir).length}\n`)
const { handle } = openDatabase(join(dataDir, 'tagstrip.db'), migrationsDir, functions, (steps) =>
  copyBeforeSteps({ dataDir, steps, at: Date.now(), log: openLog('silent') }),
)
handle.close()
