import { type Logger, pino } from 'pino'

export type Log = Logger

/** One line of JSON each; addresses of visitors, codes, secrets and cookies are never given to it. */
export const openLog = (level: string): Log => pino({ level, base: null, timestamp: pino.stdTimeFunctions.isoTime })
