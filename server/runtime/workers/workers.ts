import { Worker } from 'node:worker_threads'
import type { Log } from '../settings/log'

/** What a worker thread is sent, and what it sends back: news while it is at it, then `{ id, product }`, or `{ id, failed }` in words. */
export interface Order<Content> {
  id: number
  content: Content
}
export type Delivery<Product, News = never> = { id: number; product: Product } | { id: number; failed: string } | { id: number; news: News }

export interface Workshop<Content, Product, News = never> {
  make(content: Content, tell?: (news: News) => void): Promise<Product>
  /** Ends what is being made, which is refused; the next order starts another thread. */
  stop(): void
  close(): void
}

/** Why an order is refused whose thread ended over it: by a fault, for want of memory, or because it was stopped. */
export class ThreadEnded extends Error {}

interface Waiting<Product, News> {
  tell?: ((news: News) => void) | undefined
  resolve(product: Product): void
  reject(reason: Error): void
}

/**
 * One thread beside the house's, for what takes long to compute: bids must not wait for it. It is started by
 * the first order. When it dies, what it was at is refused and the next order starts another.
 */
export function openWorkshop<Content, Product, News = never>({
  entry,
  log,
  given,
  mostMegabytes,
}: {
  entry: string
  /** What a thread is given when it starts. */
  given?: object
  /** A thread whose own objects take more memory than this is ended. */
  mostMegabytes?: number
  log: Log
}): Workshop<Content, Product, News> {
  let worker: Worker | null = null
  let lastId = 0
  const waiting = new Map<number, Waiting<Product, News>>()

  const refuseAll = (words: string, cause?: unknown) => {
    for (const { reject } of waiting.values()) reject(new ThreadEnded(words, { cause }))
    waiting.clear()
  }

  const start = (): Worker => {
    const started = new Worker(entry, {
      workerData: given,
      ...(mostMegabytes === undefined ? {} : { resourceLimits: { maxOldGenerationSizeMb: mostMegabytes } }),
    })
    // An idle thread keeps no process open.
    started.unref()
    started.on('message', (delivery: Delivery<Product, News>) => {
      const asked = waiting.get(delivery.id)
      if ('news' in delivery) {
        asked?.tell?.(delivery.news)
        return
      }
      waiting.delete(delivery.id)
      if ('failed' in delivery) asked?.reject(new Error(delivery.failed))
      else asked?.resolve(delivery.product)
    })
    const died = (reason: unknown) => {
      if (worker !== started) return
      worker = null
      log.error({ err: reason, entry }, 'a worker thread died; the next order starts another')
      refuseAll('The worker thread died over it.', reason)
    }
    started.on('error', died)
    started.on('exit', (code) => died(new Error(`it ended with code ${code}`)))
    return started
  }

  const end = (words: string) => {
    const ending = worker
    worker = null
    void ending?.terminate()
    refuseAll(words)
  }

  return {
    make: (content, tell) =>
      new Promise((resolve, reject) => {
        worker ??= start()
        const id = ++lastId
        waiting.set(id, { resolve, reject, tell })
        const order: Order<Content> = { id, content }
        worker.postMessage(order)
      }),
    stop: () => end('It was stopped.'),
    close: () => end('The house closes.'),
  }
}
