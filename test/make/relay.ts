import { LIVE_TOPICS } from '#doors/web/topics'
import { serveRelay } from '#house/programs/serve-relay'
import { houseNames } from '#runtime/nats/house-names'
import { openNats } from '#runtime/nats/nats'
import { openSender } from '#runtime/relay/sender'
import { readConfig } from '#runtime/settings/config'
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

export async function openRelay(
  stage: Pick<Stage, 'house'>,
  natsUrls: readonly string[],
  wishes: Record<string, string> = {},
  build = 'one build',
) {
  const relay = await serveRelay(
    readConfig({
      PORT: '0',
      HOST: '127.0.0.1',
      PUBLIC_URL: stage.house.publicUrl,
      NATS_URL: natsUrls.join(','),
      TRUSTED_PROXY: 'x-forwarded-for',
      LOG_LEVEL: 'silent',
      ...wishes,
    }),
    build,
  )
  return { ...relay, url: `http://127.0.0.1:${relay.port}` }
}
