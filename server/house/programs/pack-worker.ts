import { parentPort } from 'node:worker_threads'
import { type PackQuestion, packHouse } from '#end/packs/pack-house'
import type { PackMade, PackNews } from '#end/packs/packs.contract'
import type { Delivery, Order } from '#runtime/workers/workers'
import { PACK_MEANS } from '../open/pack-means'

// The entry of the thread that makes packs: dist/pack-worker.mjs.
parentPort?.on('message', async ({ id, content }: Order<PackQuestion>) => {
  parentPort?.postMessage(await deliver(id, content))
})

async function deliver(id: number, question: PackQuestion): Promise<Delivery<PackMade>> {
  try {
    const tell = (news: PackNews) => parentPort?.postMessage({ id, news } satisfies Delivery<PackMade, PackNews>)
    return { id, product: await packHouse(question, PACK_MEANS, tell) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) }
  }
}
