import { parentPort } from 'node:worker_threads'
import type { Delivery, Order } from '#runtime/workers/workers'
import { answerPlan } from './plan-solver'
import type { PlanAnswer, PlanNews, PlanQuestion } from './planning.contract'

// The entry of the thread that plans the day: dist/plan-worker.mjs.
parentPort?.on('message', async ({ id, content }: Order<PlanQuestion>) => {
  const send = (delivery: Delivery<PlanAnswer, PlanNews>) => parentPort?.postMessage(delivery)
  try {
    send({ id, product: await answerPlan(content, (news) => send({ id, news })) })
  } catch (reason) {
    send({ id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) })
  }
})
