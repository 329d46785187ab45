import { format, stripVTControlCharacters } from 'node:util'
import type { Log } from './log'

const LEVELS = { log: 'info', info: 'info', warn: 'warn', error: 'error', debug: 'debug', trace: 'debug' } as const

/** What libraries print into the console of this thread stands in the log as lines of it. */
export function logTheConsole(log: Log): void {
  for (const [method, level] of Object.entries(LEVELS) as [keyof typeof LEVELS, (typeof LEVELS)[keyof typeof LEVELS]][])
    console[method] = (...said: unknown[]) => {
      const err = said.find((one) => one instanceof Error)
      const words = stripVTControlCharacters(format(...said.map((one) => (one === err && err ? err.message : one)))).trim()
      if (words !== '') log[level](err ? { err, printed: true } : { printed: true }, words)
    }
}

/**
 * What libraries print, and what Node warns of, stands in the log as lines of it. A fault that nothing caught does too, and ends the
 * program, as it would have.
 */
export function logWhatIsPrinted(log: Log): void {
  logTheConsole(log)
  process.removeAllListeners('warning')
  process.on('warning', (warning) => log.warn({ err: warning }, 'Node warns'))
  process.on('uncaughtException', (reason) => {
    log.fatal({ err: reason }, 'a fault that nothing caught: the program ends')
    process.exit(1)
  })
}
