import { setPriority } from 'node:os'
import { parentPort } from 'node:worker_threads'
import { type CopyMade, type CopyOrder, makeBackup } from '#runtime/disk/backup'
import type { Delivery, Order } from '#runtime/workers/workers'

// The entry of the thread that copies the house on the day: dist/copy-worker.mjs.

// Linux has a priority for each thread, and takes this for the one that asks: where there are few cores, bids come first. Elsewhere
// it would be that of the whole house.
if (process.platform === 'linux') setPriority(0, 10)

parentPort?.on('message', async ({ id, content }: Order<CopyOrder>) => {
  parentPort?.postMessage(await deliver(id, content))
})

async function deliver(id: number, order: CopyOrder): Promise<Delivery<CopyMade>> {
  try {
    return { id, product: await makeBackup(order) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? reason.message : String(reason) }
  }
}
