import { parentPort } from 'node:worker_threads'
import { type CopyMade, type CopyOrder, makeBackup } from '#runtime/disk/backup'
import type { Delivery, Order } from '#runtime/workers/workers'

// The entry of the thread that copies the house on the day: dist/copy-worker.mjs.
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
