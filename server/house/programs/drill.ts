import { constants, setPriority } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { readConfig } from '#runtime/settings/config'
import { drill } from '../drill/drill'
import { bringsTheHouseUp, drillWords, partWords } from '../drill/drill-words.rules'
import { passphraseOf } from './ask-passphrase'
import { copyAt } from './copy-at'
import { startWords } from './start-words'

// Whether the copy elsewhere would bring the house up, tried: dist/drill.mjs.

const say = (words: string) => void process.stdout.write(`${words}\n`)

async function main(): Promise<boolean> {
  writeForOwnerAlone()
  const { values } = parseArgs({ options: { from: { type: 'string' } } })
  const { dataDir, copy, copyMeans, copyPassphrase, publicUrl } = readConfig()
  const to = values.from === undefined ? copy?.to : copyAt(values.from)
  if (to === undefined)
    throw new Error(
      'COPY_TO is not set, so there is no copy to try. Set it to the same as for the house, or name the copy: npm run drill -- --from place',
    )
  // A house that is open meanwhile comes first.
  setPriority(constants.priority.PRIORITY_BELOW_NORMAL)
  const ending = new AbortController()
  for (const name of ['SIGINT', 'SIGTERM'] as const)
    process.once(name, () => ending.abort(new Error('The drill was ended. What it made is gone again.')))
  const report = await drill({
    dataDir,
    from: { to, means: copyMeans },
    passphrase: await passphraseOf(copyPassphrase),
    migrationsDir: join(process.cwd(), 'db', 'migrations'),
    publicUrl,
    tell: (part) => say(partWords(part)),
    signal: ending.signal,
  })
  say(`\n${drillWords(report)}`)
  return bringsTheHouseUp(report)
}

main().then(
  (isUp) => process.exit(isUp ? 0 : 1),
  (reason: unknown) => {
    process.stderr.write(`The copy would not bring the house up: ${startWords(reason)}\n`)
    process.exit(1)
  },
)
