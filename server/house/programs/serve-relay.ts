import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { openOwnFiles } from '#doors/pages/own-files'
import { openRelayDoor } from '#doors/relay/relay-door'
import { buildIdOf, nextDir } from '#doors/web/build-id'
import { openHeaders } from '#doors/web/headers'
import { openLeave } from '#doors/web/leave'
import { serverFor } from '#doors/web/server'
import { openOpenFiles } from '#runtime/live/open-files'
import { openNats } from '#runtime/nats/nats'
import { openReceiver } from '#runtime/relay/receiver'
import type { Config } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'

/** Whoever may connect to NATS may say there to be a house: a relay that took the first it heard would give pages and cookies to anybody. */
const WHOSE =
  'A relay believes one house alone and has to be told which: set RELAY_OF to the name of its house. The house says it in its log when it opens (relayOf).'
const LONGEST_LEAVE_MS = 5_000

export interface ServedRelay {
  port: number
  watching(): number
  close(): Promise<void>
}

/** Opens a relay: it holds nothing that another could not have from the house again. */
export async function serveRelay(config: Config, build = buildIdOf(process.cwd())): Promise<ServedRelay> {
  const { natsUrls: urls, natsCreds: credsFile, publicUrl, trustedProxy, writerUrl } = config
  const root = process.cwd()
  const log = openLog(config.logLevel)
  if (urls.length === 0) throw new Error('A relay hears its house through NATS: set NATS_URL to the servers that the house has in its own.')
  const kid = config.relayOf
  if (kid === undefined) throw new Error(WHOSE)
  const nats = await openNats({ urls, credsFile, name: 'a relay' })
  try {
    const receiver = openReceiver({ nats, kid, build, log })
    const headers = openHeaders({ publicUrl, isDev: false })
    const openFiles = openOpenFiles(log)
    const files = openOwnFiles({ nextDir: nextDir(root), publicDir: join(root, 'public'), forPage: headers.forPage })
    const inside = openRelayDoor({ receiver, trustedProxy, writerUrl, build, files, openFiles, log })
    const leave = openLeave(inside.door, headers)
    const server = serverFor(leave.door, headers, openFiles.mostConnections)
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject)
      server.listen({ port: config.port, host: config.host, backlog: 1024 }, resolve)
    })
    log.info({ of: kid, url: publicUrl }, 'the relay is open')
    return {
      port: (server.address() as AddressInfo).port,
      watching: () => receiver.fan.watching(),
      async close() {
        receiver.close()
        await leave.begin(server, LONGEST_LEAVE_MS)
        inside.close()
        server.closeAllConnections()
        await nats.close()
      },
    }
  } catch (reason) {
    await nats.close()
    throw reason
  }
}
