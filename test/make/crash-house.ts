import { join } from 'node:path'
import { person } from '#db/schema/index'
import { openHouse } from '#house/open/house'
import { wallClock } from '#runtime/queue/stamp'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { placeTypedBid } from '#sale/bidding/place-bid.service'

// A house that bids against itself until it is killed, and says the key of each bid once it was acknowledged.
const [, , dataDir = '', lot = '1', round = '0'] = process.argv
const house = openHouse({
  dataDir,
  migrationsDir: join(process.cwd(), 'db', 'migrations'),
  publicUrl: 'https://bench.example',
  isDemo: false,
  clock: wallClock(),
  log: openLog(process.env.LOG_LEVEL ?? 'silent', process.stderr),
  copy: readConfig().copy,
})
house.startTicking()

const bidders = house.db
  .select()
  .from(person)
  .all()
  .filter(({ role }) => role === 'bidder')
// Nobody is let bid more than twelve times a minute: whoever wants bids to go on says how long each waits for the next.
const every = Number(process.env.BID_EVERY_MS ?? 0)
let amount = 100 + Number(round) * 1_000_000

async function bidOn(index: number): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, every * (index / bidders.length)))
  for (;;) {
    const who = bidders[index]
    if (!who) return
    const key = `crash-${round}-${String(++amount).padStart(12, '0')}`
    const actor = { personId: who.id, role: who.role, name: who.name, email: who.email }
    const maximum = String(amount * 100)
    const isTaken = await house.queue
      .run((turn) => placeTypedBid(turn, actor, { lot: Number(lot), key, maximum }))
      .then(
        () => true,
        () => false,
      )
    if (isTaken) process.stdout.write(`${key}\n`)
    if (every > 0) await new Promise((resolve) => setTimeout(resolve, every * (0.95 + Math.random() / 10)))
  }
}

Promise.all(bidders.map((_, index) => bidOn(index))).catch(() => process.exit(1))
