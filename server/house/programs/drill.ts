import { constants, setPriority } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { readConfig } from '#runtime/settings/config'
import { drill } from '../drill/drill'
import { drillGrown } from '../drill/drill-grown'
import { bringsTheHouseUp, drillWords, partWords } from '../drill/drill-words.rules'
import { passphraseOf } from './ask-passphrase'
import { copyAt } from './copy-at'
import { startWords } from './start-words'

// Whether the copy elsewhere would bring the house up, tried: dist/drill.mjs.

const say = (words: string) => void process.stdout.write(`${words}\n`)

async function main(): Promise<boolean> {
  writeForOwnerAlone()
  const { values } = parseArgs({ options: { from: { type: 'string' }, bids: { type: 'string' } } })
  const { dataDir, copy, copyMeans, copyPassphrase, publicUrl } = readConfig()
  const bids = values.bids === undefined ? null : readCount(values.bids)
  if (bids !== null && values.from !== undefined)
    throw new Error('--bids makes a copy of its own, so --from says nothing beside it. Leave one of the two out.')
  // A house that is open meanwhile comes first.
  setPriority(constants.priority.PRIORITY_BELOW_NORMAL)
  const ending = new AbortController()
  for (const name of ['SIGINT', 'SIGTERM'] as const)
    process.once(name, () => ending.abort(new Error('The drill was ended. What it made is gone again.')))
  const common = {
    dataDir,
    migrationsDir: join(process.cwd(), 'db', 'migrations'),
    publicUrl,
    tell: (part: Parameters<typeof partWords>[0]) => say(partWords(part)),
    signal: ending.signal,
  }
  if (bids !== null) {
    const { drilled } = await drillGrown({
      ...common,
      bids,
      means: copyMeans,
      lookWorker: join(process.cwd(), 'dist', 'look-worker.mjs'),
      say,
    })
    say(`\n${drillWords(drilled)}`)
    return bringsTheHouseUp(drilled)
  }
  const to = values.from === undefined ? copy?.to : copyAt(values.from)
  if (to === undefined)
    throw new Error(
      'COPY_TO is not set, so there is no copy to try. Set it to the same as for the house, or name the copy: npm run drill -- --from place',
    )
  const report = await drill({ ...common, from: { to, means: copyMeans }, passphrase: await passphraseOf(copyPassphrase) })
  say(`\n${drillWords(report)}`)
  return bringsTheHouseUp(report)
}

function readCount(written: string): number {
  const count = Number(written)
  if (!Number.isSafeInteger(count) || count < 1) throw new Error(`--bids wants a whole number from 1 on; it is "${written}".`)
  return count
}

main().then(
  (isUp) => process.exit(isUp ? 0 : 1),
  (reason: unknown) => {
    process.stderr.write(`The copy would not bring the house up: ${startWords(reason)}\n`)
    process.exit(1)
  },
)
