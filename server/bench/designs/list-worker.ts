import { parentPort } from 'node:worker_threads'
import type { Delivery, Order } from '#runtime/workers/workers'
import { type ListOrder, type ListsRead, readLists } from './list-reading'

// The entry of the thread that reads lists of designs: dist/list-worker.mjs.
parentPort?.on('message', ({ id, content }: Order<ListOrder>) => {
  parentPort?.postMessage(deliver(id, content))
})

function deliver(id: number, order: ListOrder): Delivery<ListsRead> {
  try {
    return { id, product: readLists(order) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) }
  }
}
