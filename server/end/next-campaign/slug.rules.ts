/** What a campaign may be called in addresses, from its name and the year of its stream: "Receivers for Harbour House" gives `receivers-for-harbour-house-2027`. */
export function slugOf(name: string, year: number): string {
  const plain = name
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
  const short = plain.slice(0, 50).replace(/-+$/, '')
  const said = `-${year}`
  if (short === '') return `campaign${said}`
  return short.endsWith(said) ? short : `${short}${said}`
}
