import { byDesignator } from '#stock/catalogue/designator.rules'

export interface PickSource {
  batchId: string
  code: string
  place: string
  inHand: number
  /** What is said of it beside its code: a substitute, a marking. */
  words: string
}

export interface PickNeed {
  partId: string
  part: string
  designators: readonly string[]
  /** The likeliest first; none of which somebody would have to be asked. */
  sources: readonly PickSource[]
}

export interface PickRow extends PickSource {
  part: string
  designators: string[]
  /** The only batch there is for it, with enough in it. */
  isOnly: boolean
}

export interface PickList {
  /** By place, in the order of its name; what has none stands last. Within one, in the order of the board. */
  places: { place: string; rows: PickRow[] }[]
  lacking: { part: string; designators: string[] }[]
}

/** What to take from where: each position from the first batch that has any left, so that a bag is opened once. */
export function pickList(needs: readonly PickNeed[]): PickList {
  const left = new Map(needs.flatMap(({ sources }) => sources.map(({ batchId, inHand }) => [batchId, inHand] as const)))
  const rows: PickRow[] = []
  const lacking: PickList['lacking'] = []
  for (const { part, designators, sources } of needs) {
    const open = [...designators].sort(byDesignator)
    const enough = sources.find(({ batchId }) => (left.get(batchId) ?? 0) >= open.length)
    for (const source of enough ? [enough] : sources) {
      const taken = open.splice(0, left.get(source.batchId) ?? 0)
      if (taken.length === 0) continue
      left.set(source.batchId, (left.get(source.batchId) ?? 0) - taken.length)
      rows.push({ ...source, part, designators: taken, isOnly: sources.length === 1 && open.length === 0 })
    }
    if (open.length > 0) lacking.push({ part, designators: open })
  }
  const names = [...new Set(rows.map(({ place }) => place))].sort(byPlace)
  return {
    places: names.map((place) => ({
      place,
      rows: rows.filter((row) => row.place === place).sort((a, b) => byDesignator(a.designators[0] ?? '', b.designators[0] ?? '')),
    })),
    lacking: lacking.sort((a, b) => byDesignator(a.designators[0] ?? '', b.designators[0] ?? '')),
  }
}

/** "drawer 9" before "drawer 10"; no place comes last. */
const byPlace = (a: string, b: string): number =>
  a === '' || b === '' ? Number(a === '') - Number(b === '') : a.localeCompare(b, 'en', { numeric: true })
