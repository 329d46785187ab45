import { parentPort } from 'node:worker_threads'
import type { PaperOrder } from '#paper/order'
import type { Delivery, Order } from '#runtime/workers/workers'
import { setPaper } from './papers'

// The entry of the thread that sets papers: dist/paper-worker.mjs.
parentPort?.on('message', async ({ id, content }: Order<PaperOrder>) => {
  parentPort?.postMessage(await deliver(id, content))
})

async function deliver(id: number, order: PaperOrder): Promise<Delivery<Uint8Array>> {
  try {
    return { id, product: await setPaper(order) }
  } catch (reason) {
    // A paper that cannot be set is refused; it must not end the thread with those that wait behind it.
    return { id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) }
  }
}
