import { z } from 'zod'

/**
 * Texts as people type them. Every string of a contract is made by one of these, and each keeps the same order: how
 * long it is comes first, so that nothing longer is ever searched, folded or trimmed; then what it is made of; then it is
 * put into its one composed form (NFC) without blanks at its ends. What a room asks beyond that is added behind.
 */

/** Longer by this than what is allowed is still read: blanks at the ends and letters written in two parts go before it is counted. */
const ROOM_FOR_BLANKS = 100

/**
 * What no text holds: half of a character (a lone surrogate, which no file and no signature can carry), marks that turn the
 * direction of writing (Unicode's Bidi_Control: they make a name read as another), and control characters other than
 * tab and line break.
 */
const NEVER = /\p{Cs}|\p{Bidi_Control}|[^\P{Cc}\t\n\r]|[\ufffe\uffff]/u
const EACH_NEVER = new RegExp(NEVER, 'gu')

const WORDS = {
  half: 'Half a character is missing, often from an emoji. Delete that part and type it again.',
  turns: 'It contains a hidden mark that reverses the direction of the text. Type it instead of pasting it.',
  unseen: 'It contains a hidden control character. Type it instead of pasting it.',
}

/** Says what is wrong with a text in words; null when every character of it can stand on a page, in a file and under a signature. */
export function whatIsHidden(text: string): string | null {
  const found = NEVER.exec(text)?.[0]
  if (found === undefined) return null
  if (/\p{Cs}/u.test(found)) return WORDS.half
  return /\p{Bidi_Control}/u.test(found) ? WORDS.turns : WORDS.unseen
}

/** A text of `most` characters at most; what is longer is refused with these words before anything else is asked of it. */
export const text = (most: number, tooLong: string = `At most ${most} characters here.`) =>
  z
    .string()
    .max(most + ROOM_FOR_BLANKS, { error: tooLong, abort: true })
    .refine((typed) => !NEVER.test(typed), { error: ({ input }) => whatIsHidden(String(input)) ?? '', abort: true })
    .normalize('NFC')
    .trim()
    .max(most, { error: tooLong, abort: true })

/**
 * A text without the characters of this kind at its end, such as noughts. By steps and not by a pattern: one that looks for
 * them from each place reads a long run of them again and again.
 */
export function withoutAtEnd(text: string, character: string): string {
  let end = text.length
  while (end > 0 && text[end - 1] === character) end -= 1
  return text.slice(0, end)
}

/** Something that can be opened as a page: https, a name with a dot, no blanks. */
export const isHttpsAddress = (text: string): boolean => /^https:\/\/[^\s/.]+\.\S+$/.test(text)

/** A file or a pasted list, as it is: what reads it takes out what no text holds. */
export const fileText = (most: number, tooLarge: string) => z.string().max(most, { error: tooLarge, abort: true })

/** A text from elsewhere without what no text holds: nobody can mend a bank's file by hand, and nothing that is seen is lost. */
export const withoutHidden = (text: string): string => text.replaceAll(EACH_NEVER, (found) => (/\p{Cs}/u.test(found) ? '\ufffd' : ''))

const RELOAD = 'Reload the page and try again.'

/** The key that a form makes for itself, so that what is sent twice is done once. */
export const formKey = () => text(80, RELOAD).min(8, RELOAD)

/** The name that the house gave a row; one that it never gave is found nowhere. */
export const idIn = (words = 'That is not known here. Reload the page and choose again.') => text(80, words)

/** The same where nothing need be chosen: a form says so by nothing at all, or by an empty choice. */
export const idOrNone = () =>
  idIn()
    .optional()
    .transform((id) => id || undefined)

/** A SHA-256 as 64 hexadecimal digits, such as that of a photograph. */
export const sha256In = (words: string) => text(64, words).regex(/^[0-9a-f]{64}$/, words)
