import type { ZodError } from 'zod'
import type { FieldWords } from '#kernel/refusal'

type Issue = ZodError['issues'][number]

/** So many fields are told of at once; whoever mends these hears of the next. */
const MOST_FIELDS = 40
const KIND = 'This is missing, or of the wrong kind.'
const UNKNOWN = 'This form came with something it does not ask for. Reload the page and try again.'

/**
 * What is wrong with what came in, for people: a sentence for each field, by the name that its form knows. Nothing that
 * came in is said again, neither a value nor the name of a field that the form does not have.
 */
export function issueWords({ issues }: ZodError): FieldWords {
  const fields: FieldWords = {}
  for (const issue of issues.slice(0, MOST_FIELDS)) fields[fieldOf(issue)] ??= wordsOf(issue)
  return fields
}

/** `rows.2.amount`. A name that could only have been made up by whoever sent it is left out. */
const fieldOf = ({ path }: Issue): string =>
  path
    .map(String)
    .filter((name) => /^\w{1,40}$/.test(name))
    .join('.') || 'form'

function wordsOf(issue: Issue): string {
  if (issue.code === 'unrecognized_keys') return UNKNOWN
  if (isPlain(issue.message)) return issue.message
  // Of what may be written in two ways, the one that has something to say to a person.
  const [said] = issue.code === 'invalid_union' ? issue.errors.flat().filter(({ message }) => isPlain(message)) : []
  return said?.message ?? KIND
}

/** The validator's own words ("Invalid input: expected string, received …") are not for people. */
const isPlain = (message: string): boolean => message !== '' && !/^(Invalid|Too|Unrecognized|Expected)/.test(message)
