/** What was typed or chosen in a form and not sent yet, by the names of its fields. */
export type TypedText = Record<string, string>

/** Everything that a browser's tab keeps of it begins so; whoever signs out takes it along. */
export const KEPT_AS = 'typed '

export const placeOf = (path: string, form: string): string => `${KEPT_AS}${path} ${form}`

interface Box {
  name: string
  value: string
  defaultValue: string
}

/** Only what differs from what the page came with, so that a form that nobody touched keeps nothing. */
export const typedIn = (boxes: readonly Box[]): TypedText =>
  Object.fromEntries(boxes.filter(({ value, defaultValue }) => value !== defaultValue).map(({ name, value }) => [name, value]))

/**
 * Whether what stands in a field of this name comes back at all. What answers a question of the house, such as a yes to what a
 * change undoes, is to be said anew: the question may be another one by then.
 */
export const isKept = (name: string): boolean => name !== '' && !name.startsWith('confirm')

/** What a tab kept, if it can be read at all. */
export function readKept(kept: string | null): TypedText {
  if (kept === null) return {}
  try {
    const read: unknown = JSON.parse(kept)
    if (typeof read !== 'object' || read === null || Array.isArray(read)) return {}
    return Object.fromEntries(Object.entries(read).filter((entry): entry is [string, string] => typeof entry[1] === 'string'))
  } catch (error) {
    if (error instanceof SyntaxError) return {}
    throw error
  }
}
