const EVERY_MS = 10_000

/**
 * Tells the house now and then that this page reads its stream. A stream that nobody reads fills what kernels and
 * proxies hold for a reader, and for minutes nobody can tell it from one that is read.
 */
export function openSignOfLife() {
  let token: string | null = null
  let next = 0
  return {
    /** A stream was opened under this token. The first sign comes after a while of chance, so that pages take turns. */
    begin(stream: string | undefined) {
      token = stream ?? null
      next = performance.now() + Math.random() * EVERY_MS
    },
    /** Something came. Timers of a page in the background stand still; what comes on a stream is heard all the same. */
    heard() {
      if (token === null || performance.now() < next) return
      next = performance.now() + EVERY_MS
      // One that is lost is followed by another, and a stream that was let go opens itself again.
      fetch(`/live/here?stream=${token}`, { method: 'POST' }).catch(() => {})
    },
  }
}
