import type { Served } from './serve'

/** Longer than a house waits for what it is answering; whatever hangs then is cut off. */
const LONGEST_GOODBYE_MS = 8_000

/** EX_IOERR of sysexits.h. */
export const DISK_FAILED = 74

/** EX_PROTOCOL: another machine writes for this house, and opening this one again would not help. */
const ANOTHER_WRITES = 76

/** Ends an open house when the program is told to end. */
export function stopOnSignal(served: Served): void {
  const stop = () => {
    setTimeout(() => process.exit(0), LONGEST_GOODBYE_MS).unref()
    served.close().then(() => process.exit(0))
  }
  process.once('SIGTERM', stop)
  process.once('SIGINT', stop)
}

/** Ends a house for which another machine writes. Every screen is told first. */
export function endOvertaken(words: string): void {
  process.stderr.write(`${words}\n`)
  setTimeout(() => process.exit(ANOTHER_WRITES), 500)
}
