import { parentPort } from 'node:worker_threads'
import type { Delivery, Order } from '#runtime/workers/workers'
import { readSheet, type SheetOrder, type SheetReading } from './sheet-reading'

// The entry of the thread that reads spreadsheets: dist/sheet-worker.mjs.
parentPort?.on('message', async ({ id, content }: Order<SheetOrder>) => {
  parentPort?.postMessage(await deliver(id, content))
})

async function deliver(id: number, order: SheetOrder): Promise<Delivery<SheetReading>> {
  try {
    return { id, product: await readSheet(order) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) }
  }
}
