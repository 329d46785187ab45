import type { SheetPerson } from './persons.rules'
import type { PlanItem, PlannedGift } from './sheets.contract'

/** Anything that somebody gave, with the day on which it came; null is still to come. */
export interface Given {
  line: number
  day: string | null
  note: string
  isThanked: boolean
  gift: PlannedGift
}

/** As many lines as a parcel may have. */
const MOST_IN_PARCEL = 40

/** What came from one person on one day is one parcel. */
export function givingsOf({ donor, isHere }: SheetPerson, given: readonly Given[]): PlanItem[] {
  const parcels = new Map<string, Given[]>()
  for (const one of given) {
    const key = `${one.day} ${one.isThanked}`
    parcels.set(key, [...(parcels.get(key) ?? []), one])
  }
  return [...parcels.values()].flatMap((own) =>
    Array.from({ length: Math.ceil(own.length / MOST_IN_PARCEL) }, (_, at): PlanItem => {
      const some = own.slice(at * MOST_IN_PARCEL, (at + 1) * MOST_IN_PARCEL)
      const [first] = some
      const note = [...new Set(some.map((each) => each.note).filter(Boolean))].join('; ').slice(0, 1000)
      return {
        is: 'giving',
        donor,
        isHere,
        day: first?.day ?? null,
        note,
        isThanked: first?.isThanked ?? false,
        gifts: some.map(({ gift }) => gift),
      }
    }),
  )
}

export const isThing = ({ kind }: Pick<PlannedGift, 'kind'>): boolean => kind !== 'labour' && kind !== 'money' && kind !== 'postage'

export const NOTHING_MORE = { part: null, marking: '', dateCode: '', place: '', minutes: null, amountMinor: null } as const
