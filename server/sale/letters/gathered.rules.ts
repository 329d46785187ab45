import type { Words } from './letter-words.rules'

const BETWEEN = '\n\n* * *\n\n'

/** One letter of several: each with its own heading, as the letter would have said it alone. */
export function gatheredLetter(parts: readonly [Words, ...Words[]], about: readonly number[]): Words {
  const [first, ...more] = parts
  if (more.length === 0) return first
  const forReader = parts.flatMap((part) => part.forReader ?? [])
  return {
    subject: parts.every(({ subject }) => subject === first.subject) ? first.subject : `News of ${namesOf(about)}`,
    body: parts.map(({ subject, body }) => `${subject}\n\n${body}`).join(BETWEEN),
    // In the order of their places in the body.
    ...(forReader.length > 0 && { forReader: forReader.join('\n') }),
  }
}

/** "lot 7", "lots 3, 7 and 9" */
function namesOf(lots: readonly number[]): string {
  const numbers = [...new Set(lots)].sort((a, b) => a - b)
  if (numbers.length < 2) return `lot ${numbers.join('')}`
  return `lots ${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`
}
