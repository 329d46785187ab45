/** What a form holds, by field name: text as typed, untrimmed; all values of a repeated name in `lists`. */
export interface FormValues {
  /** The value of a field, "" when the form has none of that name or nothing is ticked. */
  text(name: string): string
  /** Undefined when nothing but spaces was typed: for what is optional. */
  maybe(name: string): string | undefined
  /** Every value under a repeated name: ticked boxes, several photographs. */
  list(name: string): string[]
  /** A single tick. */
  ticked(name: string): boolean
  /** A whole number as typed, NaN when it is none, so that the contract can refuse it in words. */
  whole(name: string): number
}

export function readForm(data: FormData): FormValues {
  const texts = (name: string) => data.getAll(name).filter((value): value is string => typeof value === 'string')
  const text = (name: string) => texts(name)[0] ?? ''
  return {
    text,
    maybe: (name) => (text(name).trim() === '' ? undefined : text(name)),
    list: texts,
    ticked: (name) => text(name) === 'yes',
    whole: (name) => {
      const typed = text(name).normalize('NFKC').trim().replace('−', '-')
      return /^-?\d{1,15}$/.test(typed) ? Number(typed) : Number.NaN
    },
  }
}
