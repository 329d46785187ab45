/** What a campaign may be called in addresses, from its name and the year of its stream: "Receivers for Harbour House" gives `receivers-for-harbour-house-2027`. */
export function slugOf(name: string, year: number): string {
  const words = name
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^a-z0-9]/)
    .filter(Boolean)
  // Whole words as long as they fit; of one that is longer by itself, its beginning.
  let short = words[0]?.slice(0, 50) ?? 'campaign'
  for (const word of words.slice(1)) {
    if (short.length + 1 + word.length > 50) break
    short = `${short}-${word}`
  }
  const said = `-${year}`
  return short.endsWith(said) ? short : `${short}${said}`
}
