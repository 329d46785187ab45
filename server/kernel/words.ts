import { text } from './text'

/** Words as people type them, without blanks at the ends; longer than `most` is refused in a sentence that names them. */
export const wordsIn = (most: number, what: string) => text(most, `Keep ${what} under ${most + 1} characters.`)
