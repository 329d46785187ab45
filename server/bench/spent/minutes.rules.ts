/** "2 h 15 min" as people write it: "2:15", "2 h 15", "2.25 h", "135 min"; null where it is none of these or none at all. */
export function readMinutes(text: string): number | null {
  const typed = text.normalize('NFKC').trim().toLowerCase().replace(',', '.')
  const clock = /^(\d{1,3}):([0-5]\d)$/.exec(typed) ?? /^(\d{1,3}) ?h ?(?:([0-5]?\d) ?(?:m|min)?)?$/.exec(typed)
  if (clock) return above(Number(clock[1]) * 60 + Number(clock[2] ?? 0))
  const hours = /^(\d{1,3}(?:\.\d{1,2})?) ?(?:h|hours?)$/.exec(typed)
  if (hours) return above(Math.round(Number(hours[1]) * 60))
  const minutes = /^(\d{1,5}) ?(?:m|min|minutes?)$/.exec(typed)
  return minutes ? above(Number(minutes[1])) : null
}

const above = (minutes: number): number | null => (minutes > 0 ? minutes : null)

/** "2 h 15 min", "45 min", "3 h"; with its sign where there is one. */
export function sayMinutes(minutes: number): string {
  const [hours, rest] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60]
  const words = hours === 0 ? `${rest} min` : rest === 0 ? `${hours} h` : `${hours} h ${rest} min`
  return minutes < 0 ? `−${words}` : words
}
