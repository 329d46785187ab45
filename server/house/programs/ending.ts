import { Conflict } from '#runtime/standby/place'
import { sayFatal } from './saying'
import { startWords } from './start-words'

/** Longer than a program waits for what it is answering; whatever hangs then is cut off. */
export const LONGEST_GOODBYE_MS = 8_000

/** EX_IOERR of sysexits.h. */
export const DISK_FAILED = 74

/** EX_PROTOCOL: another machine writes for this house, and opening this one again would not help. */
export const ANOTHER_WRITES = 76

const SIGNALS = ['SIGTERM', 'SIGINT'] as const

/** Ends a program that opens, or stands by, at once when it is told to end: the first process of a container is ended by nothing else. */
export function endOnSignal(): void {
  for (const signal of SIGNALS) process.once(signal, endNow)
}

const endNow = () => process.exit(0)

/** Ends what is open when the program is told to end. */
export function stopOnSignal(served: { close(): Promise<void> }): void {
  const stop = () => {
    setTimeout(endNow, LONGEST_GOODBYE_MS).unref()
    served.close().then(endNow)
  }
  for (const signal of SIGNALS) process.off(signal, endNow).once(signal, stop)
}

/** Ends a house whose disk has failed, when every screen has been told. Whoever watches over it opens it again, and looks at the disk. */
export function endOfDisk(): void {
  setTimeout(() => process.exit(DISK_FAILED), 1_000)
}

/** Ends a house for which another machine writes. Every screen is told first. */
export function endOvertaken(words: string): void {
  sayFatal(words)
  setTimeout(() => process.exit(ANOTHER_WRITES), 500)
}

/** Ends a program that could not open. */
export function endUnopened(reason: unknown): void {
  sayFatal(startWords(reason))
  process.exit(reason instanceof Conflict ? ANOTHER_WRITES : 1)
}
