import { type DestinationStream, type Logger, pino } from 'pino'

export type Log = Logger

/** An email address within a line. What may stand on either side is bounded, so that a long line is read in one go. */
const MAIL_ADDRESS = /[^\s"'`<>()[\]{},;:=/\\@]{1,64}@[^\s"'`<>()[\]{},;:=/\\@]{1,255}/g

/** What a query was given, as the database library writes it into its errors: up to the first line of the stack. */
const GIVEN = /\bparams: [\s\S]*?(?=\n {4}at |$)/g

const withoutGiven = (words: string): string => words.replace(GIVEN, 'params: left out')

/** A fault as it is logged: what failed and where, without what people wrote. */
function plainFault(reason: Error): unknown {
  const told = pino.stdSerializers.err(reason)
  // Whatever is no error is logged as it is.
  if (!(reason instanceof Error)) return told
  return { type: told.type, message: withoutGiven(told.message), stack: withoutGiven(told.stack), code: told.code }
}

/**
 * One line of JSON each; addresses of visitors, codes, secrets and cookies are never given to it. Faults carry words of
 * others (a mail server's, a query's), so an email address is struck out of every line.
 */
export const openLog = (level: string, into: DestinationStream = pino.destination(1)): Log =>
  pino(
    {
      level,
      base: null,
      timestamp: pino.stdTimeFunctions.isoTime,
      serializers: { err: plainFault },
      hooks: { streamWrite: (line) => line.replaceAll(MAIL_ADDRESS, '(a mail address)') },
    },
    into,
  )
