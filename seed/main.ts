import { join } from 'node:path'
import { openHouse } from '#house/open/house'
import { findCampaign } from '#people/campaign/campaign.service'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { tellStory } from './story'

/** Tells the demo's story into an empty data folder, as of now. Says what it is doing; leaves a folder with a campaign alone. */
async function main(): Promise<void> {
  writeForOwnerAlone()
  const config = readConfig()
  const now = Date.now()
  // Before all that is told; it only ever moves on.
  let at = 0
  const house = openHouse({
    ...config,
    isDemo: true,
    migrationsDir: join(process.cwd(), 'db', 'migrations'),
    clock: { now: () => at },
    log: openLog('warn'),
  })
  if (findCampaign(house.sight())) {
    house.close()
    return
  }
  const started = performance.now()
  await tellStory({
    now,
    house,
    goTo: (instant) => {
      at = Math.max(at, instant)
    },
    say: (words) => process.stdout.write(`  ${words}\n`),
  })
  house.close()
  process.stdout.write(`  the story is told (${((performance.now() - started) / 1000).toFixed(1)} s)\n`)
}

main().catch((reason) => {
  process.stderr.write(
    `The demo's story could not be told: ${reason instanceof Error ? (reason.stack ?? reason.message) : String(reason)}\n`,
  )
  process.exit(1)
})
