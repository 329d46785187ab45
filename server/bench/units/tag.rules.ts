/** "TERN-03": how the tag of the third unit of a run is written. */
export const unitTag = (prefix: string, number: number) => `${prefix}-${String(number).padStart(2, '0')}`

/** A tag as typed or scanned ("tern 3", "TERN03", the address in its code) in its one form; null when it is none. */
export function readTag(text: string): string | null {
  const bare = text.normalize('NFKC').trim().toUpperCase()
  const last = bare.split('/').filter(Boolean).at(-1) ?? ''
  const match = /^([A-Z][A-Z0-9]*?[A-Z]|[A-Z]{1,8})[\s_-]*0*(\d{1,3})$/.exec(last.split(/[?#]/)[0] ?? '')
  return match ? unitTag(match[1] ?? '', Number(match[2])) : null
}

/** The words that stop a command meant for another machine; null when the tag seen is that of the unit. */
export function wrongUnit(seen: string, tag: string): string | null {
  const read = readTag(seen)
  if (read === tag) return null
  if (read === null) return `"${seen.slice(0, 40)}" is not a tag. Write it as on the machine, such as ${tag}.`
  return `You have ${read}, and this is the page of ${tag}. Nothing was stored. Take up ${tag}, or go to the page of ${read}.`
}
