import { setPriority } from 'node:os'
import { parentPort } from 'node:worker_threads'
import type { Delivery, Order } from '#runtime/workers/workers'
import { type LookedThrough, type LookOrder, lookThrough } from '../open/look-through'

// The entry of the thread that looks through what is kept: dist/look-worker.mjs.

// Linux has a priority for each thread, and takes this for the one that asks: where there are few cores, bids come first. Elsewhere
// it would be that of the whole house.
if (process.platform === 'linux') setPriority(0, 10)

parentPort?.on('message', ({ id, content }: Order<LookOrder>) => {
  parentPort?.postMessage(deliver(id, content))
})

function deliver(id: number, order: LookOrder): Delivery<LookedThrough> {
  try {
    return { id, product: lookThrough(order) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? reason.message : String(reason) }
  }
}
