import { join } from 'node:path'
import { LIVE_TOPICS } from '#doors/web/topics'
import { openFirstSigner } from '#runtime/disk/keys'
import { openNats } from '#runtime/nats/nats'
import { openSender } from '#runtime/relay/sender'
import { openSigning } from '#runtime/relay/signed'
import type { Stage } from '#test/stage'

/** A stage's house says through NATS what its watchers see; relays of it are opened beside it, on ports of their own. */
export async function sendFrom(stage: Stage, url: string, natsUrls: readonly string[], { build = 'one build', signsAs = stage } = {}) {
  const nats = await openNats({ urls: natsUrls, name: 'a house that is tried' })
  const { kid, x, sign } = openFirstSigner(join(signsAs.dir, 'keys'))
  const sender = openSender({
    nats,
    prefix: `tagstrip.${kid}`,
    sign: openSigning(x, sign),
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
