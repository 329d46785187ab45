import { parentPort } from 'node:worker_threads'
import type { Delivery, Order } from '#runtime/workers/workers'
import type { BuildAnswer, BuildQuestion } from './build.contract'
import { answerBuild } from './build-solver'

// The entry of the thread that plans what can be built: dist/build-worker.mjs.
parentPort?.on('message', async ({ id, content }: Order<BuildQuestion>) => {
  parentPort?.postMessage(await deliver(id, content))
})

async function deliver(id: number, question: BuildQuestion): Promise<Delivery<BuildAnswer>> {
  try {
    return { id, product: await answerBuild(question) }
  } catch (reason) {
    return { id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) }
  }
}
