import { randomUUID } from 'node:crypto'
import { hostname } from 'node:os'
import type { Keys } from '#runtime/queue/turn'
import type { Config } from '#runtime/settings/config'
import type { Self } from '#runtime/standby/lease'
import { type Machines, reachMachines } from '#runtime/standby/machines'
import { openPublishing } from '#runtime/standby/publishing'
import type { HouseParts } from './parts'

/** How this process is known to the other machines. */
export const selfOf = ({ publicUrl, port }: Config): Self => ({
  id: randomUUID(),
  name: `${hostname()}, port ${port}, process ${process.pid}`,
  address: publicUrl,
})

export const machinesOf = ({ natsUrls, natsCreds, standbyKept }: Config, { jwks }: Pick<Keys, 'jwks'>, self: Self): Promise<Machines> =>
  reachMachines({ urls: natsUrls, credsFile: natsCreds, jwks: jwks(), self, kept: standbyKept })

/** What opens the publishing of a house; undefined where no other machine stands by. `reached` are machines that a standby has reached already. */
export function publishingOf(
  config: Config,
  wishes: { isAlone: boolean; beginsAnew: boolean; ended(words: string): void; reached?: Machines },
): HouseParts['openPublishing'] {
  if (config.natsUrls.length === 0) return undefined
  const self = selfOf(config)
  return ({ handle, keys, log, said }) => {
    let reached = wishes.reached
    return openPublishing({
      handle,
      keys,
      log,
      said,
      isAlone: wishes.isAlone,
      beginsAnew: wishes.beginsAnew,
      ended: wishes.ended,
      async machines() {
        const first = reached
        reached = undefined
        return first ?? machinesOf(config, keys, self)
      },
    })
  }
}
