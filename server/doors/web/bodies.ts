import type { IncomingMessage } from 'node:http'
import { type FieldWords, Refusal, type RefusalCode } from '#kernel/refusal'
import { openTally } from '#runtime/call/tally'

const KB = 1024
export const MB = 1024 * KB

/** The most that a call may bring: forms fit into it many times over. */
export const MOST_CALL_BYTES = 16 * KB

/** What a body may be: how large, and in what words a larger one is refused. */
export interface BodyLimit {
  mostBytes: number
  tooLarge: Refusal
}

export interface Bodies {
  /** The whole body of a request, or a refusal in words: too large, too slow, or one of too many from its origin. */
  read(request: IncomingMessage, address: string, limit: BodyLimit): Promise<Buffer>
}

/** A body that was not read, with the status that says why. */
export class BodyRefusal extends Refusal {
  readonly status: 408 | 413 | 429

  constructor(status: 408 | 413 | 429, code: RefusalCode, words: string, fields: FieldWords = {}) {
    super(code, words, fields)
    this.status = status
  }
}

const TOO_MANY = 'Too much is being sent from your address at once. Wait until some of it has arrived, and try again.'
const TOO_MANY_LARGE = 'Many large files are coming in just now. Send it again in a minute.'
const TOO_SLOW = 'It came in too slowly. Try again with a better connection.'

/**
 * Bodies are read here and nowhere else. One that fits into a call has to be there within `withinMs`; of a larger one
 * something has to come within each `withinMs`, and all of it within thirty times that, so that a photograph on a slow
 * line arrives and a sender who only holds the line open does not stay. Of one origin so many are read at a time, and of
 * large ones so many of an origin and in all, since each stands in memory until it is whole.
 */
export function openBodies({ each = 16, largeEach = 4, largeInAll = 12, withinMs = 10_000 } = {}): Bodies {
  const underWay = openTally(each)
  const large = openTally(largeInAll)
  const largeOfOrigin = openTally(largeEach)
  return {
    async read(request, address, { mostBytes, tooLarge }) {
      const refused = (refusal: BodyRefusal) => {
        letGo(request, withinMs)
        return refusal
      }
      const over = () => refused(new BodyRefusal(413, 'too-large', tooLarge.message, tooLarge.fields))
      // What says of itself that it is too large is not kept at all.
      if (Number(request.headers['content-length'] ?? 0) > mostBytes) throw over()
      const done = underWay.take(address)
      const isLarge = mostBytes > MB
      const doneOfOrigin = done && (isLarge ? largeOfOrigin.take(address) : () => {})
      const doneLarge = doneOfOrigin && isLarge ? large.take('') : doneOfOrigin
      if (!done || !doneOfOrigin || !doneLarge) {
        done?.()
        doneOfOrigin?.()
        throw refused(new BodyRefusal(429, 'too-many', doneOfOrigin ? TOO_MANY_LARGE : TOO_MANY))
      }
      try {
        return await received(request, mostBytes, withinMs, over, () => refused(new BodyRefusal(408, 'too-late', TOO_SLOW)))
      } finally {
        done()
        doneOfOrigin()
        doneLarge()
      }
    },
  }
}

function received(
  request: IncomingMessage,
  mostBytes: number,
  withinMs: number,
  over: () => Refusal,
  tooSlow: () => Refusal,
): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = []
    let size = 0
    const isLarge = mostBytes > MOST_CALL_BYTES
    const wait = setTimeout(() => end(tooSlow()), withinMs)
    const whole = isLarge ? setTimeout(() => end(tooSlow()), 30 * withinMs) : undefined
    const end = (failed?: unknown) => {
      clearTimeout(wait)
      clearTimeout(whole)
      request.off('data', take)
      if (failed === undefined) resolve(parts.length === 1 && parts[0] ? parts[0] : Buffer.concat(parts))
      else reject(failed)
    }
    const take = (part: Buffer) => {
      size += part.length
      if (size > mostBytes) {
        end(over())
        return
      }
      parts.push(part)
      if (isLarge) wait.refresh()
    }
    request.on('data', take)
    request.once('end', () => end())
    request.once('error', end)
    request.once('close', () => end(new Error('the connection was closed before all had come')))
  })
}

/** What still comes is thrown away for a while, so that the answer reaches a browser that is still sending; then the line is cut. */
function letGo(request: IncomingMessage, withinMs: number): void {
  request.resume()
  setTimeout(() => {
    if (!request.complete) request.destroy()
  }, withinMs).unref()
}
