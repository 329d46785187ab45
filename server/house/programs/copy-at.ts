import { join } from 'node:path'
import { COPY_TO_WORDS, type CopyTo, readCopyTo } from '#runtime/settings/copy-to.rules'

/** Where a copy lies that somebody named on the command line. */
export function copyAt(named: string): CopyTo {
  const from = readCopyTo(named.startsWith('/') || named.includes('://') ? named : join(process.cwd(), named))
  if (from === null) throw new Error(`${named} is no place of a copy. It is ${COPY_TO_WORDS}.`)
  return from
}
