/** What a buyer wrote, on their own device. */
export interface Kept {
  meter: string
  /** As written, by the check's key. */
  readings: Record<string, string>
}

const placeOf = (tag: string) => `tagstrip-home-${tag}`

export function keptOf(tag: string): Kept | null {
  try {
    const { meter, readings } = JSON.parse(localStorage.getItem(placeOf(tag)) ?? 'null') as Kept
    return typeof meter === 'string' && typeof readings === 'object' && readings !== null ? { meter, readings } : null
  } catch {
    // Nothing kept, or a browser that keeps nothing.
    return null
  }
}

export function keep(tag: string, kept: Kept) {
  try {
    localStorage.setItem(placeOf(tag), JSON.stringify(kept))
  } catch {
    // A browser that keeps nothing: what is written lasts as long as the page.
  }
}
