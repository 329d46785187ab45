import { placeOf } from './flood'

/** How many things of one kind each origin has open at this moment. */
export interface Tally {
  /** Counts one more for where an address belongs, and gives what to call when it is over; null when that would be one too many. */
  take(address: string): (() => void) | null
}

/** Held in memory, and only as long as something is open: who has nothing open is not remembered. */
export function openTally(most: number): Tally {
  const open = new Map<string, number>()
  return {
    take(address) {
      const place = placeOf(address)
      const before = open.get(place) ?? 0
      if (before >= most) return null
      open.set(place, before + 1)
      let isOver = false
      return () => {
        if (isOver) return
        isOver = true
        const left = (open.get(place) ?? 1) - 1
        if (left > 0) open.set(place, left)
        else open.delete(place)
      }
    },
  }
}
