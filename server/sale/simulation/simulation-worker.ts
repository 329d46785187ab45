import { parentPort } from 'node:worker_threads'
import type { Delivery, Order } from '#runtime/workers/workers'
import { playManyDays } from './many-days.rules'
import type { DayNews, DayQuestion, DayRisk } from './simulation.contract'

// The entry of the thread that plays the day many times over: dist/simulation-worker.mjs.
parentPort?.on('message', ({ id, content }: Order<DayQuestion>) => {
  const send = (delivery: Delivery<DayRisk, DayNews>) => parentPort?.postMessage(delivery)
  try {
    send({ id, product: playManyDays(content, (news) => send({ id, news })) })
  } catch (reason) {
    send({ id, failed: reason instanceof Error ? (reason.stack ?? reason.message) : String(reason) })
  }
})
