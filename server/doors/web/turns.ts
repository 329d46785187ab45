import { placeOf } from '#runtime/call/flood'

export interface Turns {
  /**
   * Waits for the turn of an origin; gives what to call when its answer has been made. Null when more of that origin wait than are
   * ever answered.
   */
  take(address: string): Promise<(() => void) | null>
}

/** Pages and queries that are made at one time: while one waits for its reader's line, another is made. */
const AT_ONCE = 2
/** Of one origin. A hall full of people behind one address asks for no more at once. */
const MOST_WAITING = 100
/** Whoever reads slowly gives the turn on after this. */
const LONGEST_TURN_MS = 100

/**
 * What is read is made one after the other, each origin in its turn, and between two of them the event loop turns: so a bid waits
 * for a page or two and not for all that somebody asks for at once, and nobody waits for another's hundred pages.
 */
export function openTurns({ atOnce = AT_ONCE, mostWaiting = MOST_WAITING, longestMs = LONGEST_TURN_MS } = {}): Turns {
  /** By origin; whoever stands first in the map is next. */
  const waiting = new Map<string, ((done: () => void) => void)[]>()
  let busy = 0

  const begin = (go: (done: () => void) => void) => {
    busy += 1
    let isOver = false
    const done = () => {
      if (isOver) return
      isOver = true
      clearTimeout(timer)
      busy -= 1
      look()
    }
    const timer = setTimeout(done, longestMs)
    go(done)
  }

  let isLooking = false
  /** Once in each turn of the loop, however many ask. */
  const look = () => {
    if (isLooking) return
    isLooking = true
    setImmediate(() => {
      isLooking = false
      next()
    })
  }

  const next = () => {
    const first = waiting.entries().next().value
    if (busy >= atOnce || first === undefined) return
    const [place, queue] = first
    waiting.delete(place)
    const go = queue.shift()
    if (queue.length > 0) waiting.set(place, queue)
    if (go) begin(go)
    look()
  }

  return {
    take(address) {
      const place = placeOf(address)
      const queue = waiting.get(place) ?? []
      if (queue.length >= mostWaiting) return Promise.resolve(null)
      return new Promise((resolve) => {
        queue.push(resolve)
        waiting.set(place, queue)
        look()
      })
    },
  }
}
