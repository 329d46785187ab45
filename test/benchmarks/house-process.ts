import { warmUp } from '#house/open/warm-up'
import { keepPages } from '#house/programs/keep-pages'
import { HOUR } from '#kernel/instant'
import { openStageDoor } from '#test/doors/web/open-door'
import { makePreparedLot } from '#test/make/lot'
import { sendFrom } from '#test/make/send-from'
import { NOON, openStage } from '#test/stage'

const LOTS = 8
/** Its day goes by so many times faster: who bids thirty times a second here does so a few times a minute of the house's. */
const PACE = 400
/** At that pace its lots stay open for eighteen minutes, longer than it takes to open the most watchers and bid before them. */
const OPEN_FOR = 120 * HOUR

// The house in a process of its own, so that who measures it does not slow it: open lots, and as many signed-in
// bidders as were asked for. Says where it is in one line of JSON; a line on its input is answered with its memory and the time it computed.
async function main(): Promise<void> {
  const bidders = Number(process.argv[2])
  const stage = openStage()
  const lots: number[] = []
  for (let n = 1; n <= LOTS; n++) {
    const { number } = await makePreparedLot(stage, { tag: `TERN-0${n}`, closesIn: OPEN_FOR })
    await (await stage.as('maker')).bidding.open({ lot: number })
    lots.push(number)
  }
  // Who watches says from where, so that thousands of screens are not taken for those of one house.
  // Where pages are measured, they are those of the build.
  const { dir: dataDir, house } = stage
  const keptPages = process.env.BENCH_PAGES
    ? keepPages(house, { dataDir, publicUrl: house.publicUrl, isDemo: false, root: process.cwd(), logLevel: 'silent' })
    : null
  const door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for', keptPages })
  // Where relays are measured, what is seen here goes to them as well.
  if (process.env.BENCH_NATS) await sendFrom(stage, door.url, [process.env.BENCH_NATS])
  const cookies: string[] = []
  for (let n = 0; n < bidders; n++) {
    const name = `Bidder ${String.fromCharCode(97 + (n % 26))}${String.fromCharCode(97 + Math.floor(n / 26))}`
    await (await stage.as('bidder', name)).people.takePaddle({ name, country: 'GB', acceptsRules: true })
    cookies.push(await door.sessionOf((await stage.actor('bidder', name)).personId))
  }
  await stage.command((turn) => turn.db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
  // As a served house does when it is open: by the time that somebody bids it has long ended.
  await warmUp(stage.house, { afterMs: 0 }).done
  const began = performance.now()
  setInterval(() => stage.clock.set(NOON + Math.round(PACE * (performance.now() - began))), 5).unref()
  const say = (body: object) => process.stdout.write(`${JSON.stringify(body)}\n`)
  process.stdin.on('data', () =>
    say({ residentBytes: process.memoryUsage.rss(), cpu: process.cpuUsage(), watching: stage.house.hub.watching() }),
  )
  process.stdin.on('end', () => {
    door.close()
    keptPages?.close()
    stage.close()
    process.exit(0)
  })
  say({ url: door.url, lots, cookies, dir: stage.dir })
}

main().catch((reason) => {
  process.stderr.write(`${reason instanceof Error ? reason.stack : String(reason)}\n`)
  process.exit(1)
})
