import { pino } from 'pino'
import { type Log, openLog } from '#runtime/settings/log'

let lines: Log | null = null

/**
 * What a program says to whoever started it, whatever LOG_LEVEL is: words on a terminal. Anywhere else somebody keeps what it
 * prints, so it is a line of JSON like those of the log.
 */
export function say(words: string, more: Readonly<Record<string, string>> = {}): void {
  if (process.stdout.isTTY) process.stdout.write(`${[words, ...Object.values(more)].join('\n  ')}\n`)
  else {
    lines ??= openLog('info')
    lines.info(more, words)
  }
}

/** The same of what keeps it from going on. */
export function sayFatal(words: string): void {
  if (process.stderr.isTTY) process.stderr.write(`${words}\n`)
  else openLog('fatal', pino.destination(2)).fatal(words)
}
