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

/** What is done when the program is told to end: at once, until something is open that has to be closed. */
let end: () => void = endNow

/**
 * Ends a program that opens, or stands by, at once when it is told to end: the first process of a container is ended by nothing else.
 * The one listener stays: a signal that comes while the pages' program is read waits for the loop, and would be lost with its listener.
 */
export function endOnSignal(): void {
  for (const signal of SIGNALS) process.on(signal, () => end())
}

function endNow(): void {
  process.exit(0)
}

/** Ends what is open when the program is told to end. */
export function stopOnSignal(served: { close(): Promise<void> }): void {
  end = () => {
    end = () => {}
    setTimeout(endNow, LONGEST_GOODBYE_MS).unref()
    served
      .close()
      .catch((reason) => sayFatal(`What was open could not be closed whole: ${String(reason)}`))
      .finally(endNow)
  }
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
