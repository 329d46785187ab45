import { LIVE_TOPICS } from '#doors/web/topics'
import { houseNames } from '#runtime/nats/house-names'
import { openNats } from '#runtime/nats/nats'
import { openSender } from '#runtime/relay/sender'
import type { Stage } from '#test/stage'

/** A stage's house says through NATS what its watchers see; relays of it are opened beside it, on ports of their own. */
export async function sendFrom(stage: Stage, url: string, natsUrls: readonly string[], build = 'one build') {
  const nats = await openNats({ urls: natsUrls, name: 'a house that is tried' })
  const sender = openSender({
    nats,
    prefix: houseNames(stage.house.keys.jwks()).prefix,
    hub: stage.house.hub,
    topics: LIVE_TOPICS,
    seqNow: stage.house.seqNow,
    now: () => stage.clock.now(),
    trouble: stage.house.trouble,
    build,
    url,
    publicUrl: stage.house.publicUrl,
  })
  return {
    async close() {
      sender.close()
      await nats.close()
    },
  }
}
