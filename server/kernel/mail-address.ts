import { z } from 'zod'
import { text } from './text'

/** RFC 5321, 4.5.3.1: 64 characters before the sign and 254 in all. */
const MOST = 254
const MOST_LOCAL = 64

/** The shape that the sign-in library takes too. Each character is looked at a bounded number of times, whatever is written. */
export const isMailAddress = (address: string): boolean =>
  address.length <= MOST && address.indexOf('@') <= MOST_LOCAL && z.regexes.email.test(address)

/** An email address; `words` say what to write instead of one that is none. */
export const mailAddress = (words: string) => text(MOST, 'That is too long for an email address.').refine(isMailAddress, words)
