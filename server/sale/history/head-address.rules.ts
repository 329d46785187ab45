/** The head of a history as a picture of the stream shows it. */
export interface HeadInPicture {
  lot: number
  /** How many entries led to it. */
  size: number
  /** The root in hex. */
  root: string
}

/** Where a head that was seen in a picture is compared with the history; what stands behind the # is sent to nobody. */
export const headAddress = (publicUrl: string, { lot, size, root }: HeadInPicture): string =>
  `${publicUrl}/lots/${lot}/history#head=${size}-${root}`

/** The head in what stands behind the #; null when there is none in it. */
export function readHeadFragment(fragment: string): Omit<HeadInPicture, 'lot'> | null {
  const found = /^#?head=([1-9]\d{0,8})-([0-9a-f]{64})$/i.exec(fragment)
  return found?.[1] && found[2] ? { size: Number(found[1]), root: found[2].toLowerCase() } : null
}
