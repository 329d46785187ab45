import { parentPort } from 'node:worker_threads'
import type { Delivery, Order } from '#runtime/workers/workers'
import type { PackMade, PackNews } from './pack.contract'
import { type PackQuestion, packHouse } from './pack-house'

// The entry of the thread that makes packs: dist/pack-worker.mjs.
parentPort?.on('message', async ({ id, content }: Order<PackQuestion>) => {
  parentPort?.postMessage(await deliver(id, content))
})

async function deliver(id: number, question: PackQuestion): Promise<Delivery<PackMade>> {
  try {
    const tell = (news: PackNews) => parentPort?.postMessage({ id, news } satisfies Delivery<PackMade, PackNews>)
    return { id, product: await packHouse(question, tell) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) }
  }
}
