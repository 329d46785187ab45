import type { ParcelIn } from '#gifts/parcels/parcel.contract'
import type { PartIn } from '#stock/catalogue/part.contract'
import type { CatalogueEntry } from '#stock/catalogue/parts-meant.rules'
import { countSaid } from '#stock/donors/count-words.rules'
import { likelySenders } from '#stock/donors/gift.rules'

/** What the phone knows of the bench when it logs a parcel. */
export interface Known {
  donors: { id: string; name: string; consents: { page: boolean; stream: boolean; card: boolean }; consentAt: number | null }[]
  promises: {
    giftId: string
    donorId: string
    partId: string | null
    what: string
    quantity: number
    promisedAt: number
    waiting: string[]
  }[]
  parts: CatalogueEntry[]
  goals: { units: { id: string; tag: string }[]; designs: { id: string; name: string }[] }
}

export interface DraftLine {
  id: string
  promiseId: string | null
  /** As typed, or what was promised. */
  what: string
  /** What is new to the catalogue, once somebody has said yes to it. */
  fresh?: { part: PartIn; words: string } | null
  /** As typed: "30", "ca. 30", "?". */
  quantity: string
  marking: string
  dateCode: string
  /** `unit:…` or `design:…` where its giver said what it is for; empty for any machine. */
  onlyFor: string
}

export interface NewDonorDraft {
  name: string
  contact: string
  sayIt: string
  anonymity: 'named' | 'friend' | 'maker-only' | 'unknown'
  consents: { page: boolean; stream: boolean; card: boolean }
}

/** A parcel as it stands on the phone, before the house has it. Its key is made with it and never changes. */
export interface Draft {
  key: string
  donorId: string | null
  newDonor: NewDonorDraft | null
  /** Nobody knows who sent it. */
  fromNobody: boolean
  lines: DraftLine[]
  note: string
}

export const emptyDraft = (key: string): Draft => ({ key, donorId: null, newDonor: null, fromNobody: false, lines: [], note: '' })

export const isTouched = (draft: Draft, hasPhoto: boolean): boolean =>
  hasPhoto || draft.donorId !== null || draft.newDonor !== null || draft.fromNobody || draft.note !== ''

const emptyLine = (id: string): DraftLine => ({ id, promiseId: null, what: '', quantity: '1', marking: '', dateCode: '', onlyFor: '' })

export const withAnotherLine = (draft: Draft): Draft => ({
  ...draft,
  lines: [...draft.lines, emptyLine(`${draft.key}-${draft.lines.length}`)],
})

/** A known donor with everything that they promised taken as here; a donor who promised nothing gets an empty line. */
export function fromDonor(draft: Draft, donorId: string, known: Known): Draft {
  const promised = known.promises
    .filter((promise) => promise.donorId === donorId)
    .map(({ giftId, what, quantity }) => ({ ...emptyLine(giftId), promiseId: giftId, what, quantity: String(quantity) }))
  const chosen: Draft = { ...draft, donorId, newDonor: null, fromNobody: false, lines: promised }
  return promised.length > 0 ? chosen : withAnotherLine(chosen)
}

export const fromSomebodyNew = (draft: Draft, name: string): Draft =>
  withAnotherLine({
    ...draft,
    donorId: null,
    fromNobody: false,
    newDonor: { name, contact: '', sayIt: '', anonymity: 'named', consents: { page: false, stream: false, card: false } },
    lines: [],
  })

/** A parcel without a name on it: what came is written down, and it is claimed later. */
export const fromNobodyKnown = (draft: Draft): Draft =>
  withAnotherLine({ ...draft, donorId: null, newDonor: null, fromNobody: true, lines: [] })

/** Who it turns out to be from; what was written down of it stays, and meets their promises when it is kept. */
export const asSentBy = (draft: Draft, donorId: string): Draft => ({ ...draft, donorId, newDonor: null, fromNobody: false })

/** Of a parcel from not known: who promised such parts, the likeliest first. */
export function whoMayHaveSent(draft: Draft, known: Known, most = 3): Known['donors'] {
  const came = draft.lines.map((line) => ({
    partId: partMeant(line.what, known) ?? null,
    quantity: Number(countSaid(line.quantity).quantity) || 0,
  }))
  const promises = known.promises.map((promise) => ({ ...promise, words: promise.what }))
  return likelySenders(promises, came)
    .flatMap(({ donorId }) => known.donors.find(({ id }) => id === donorId) ?? [])
    .slice(0, most)
}

/** What a count means for the promise that it meets. */
export function againstPromise(typed: string, promised: number): string {
  const { quantity, howCounted } = countSaid(typed)
  if (howCounted === 'not yet') return 'Not counted yet.'
  const came = Number(quantity)
  if (!Number.isInteger(came) || quantity === '') return ''
  if (came === 0) return 'None came; all are still promised.'
  if (came < promised) return `${promised - came} still promised.`
  return came > promised ? `${came - promised} more than promised.` : ''
}

/** Who may be meant: names with a word that begins as typed; with nothing typed, those whose promises are awaited. */
export function whoIsMeant(typed: string, known: Known, most = 5): Known['donors'] {
  const asked = plain(typed)
  const awaited = new Set(known.promises.map((promise) => promise.donorId))
  const meant = known.donors.filter((donor) =>
    asked === ''
      ? awaited.has(donor.id)
      : plain(donor.name).startsWith(asked) ||
        plain(donor.name)
          .split(' ')
          .some((word) => word.startsWith(asked)),
  )
  return meant.sort((a, b) => Number(awaited.has(b.id)) - Number(awaited.has(a.id))).slice(0, most)
}

/** The catalogue's part whose words were typed, whatever the case. */
export const partMeant = (what: string, known: Known): string | undefined =>
  known.parts.find((part) => plain(part.words) === plain(what))?.id

const plain = (text: string): string => text.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase().trim()

/** What would be refused at once, by the fields of the form: the house need not be asked, and often cannot be. */
export function whatIsMissing(draft: Draft): Record<string, string> {
  const missing: Record<string, string> = {}
  if (draft.donorId === null && draft.newDonor === null && !draft.fromNobody) missing.donorId = 'Say who it is from.'
  if (draft.newDonor !== null && draft.newDonor.name.trim() === '')
    missing['newDonor.name'] = 'Say who it is from. “Unknown” will do if nobody knows.'
  const sent = draft.lines.filter(({ promiseId, quantity }) => promiseId === null || !isNought(quantity))
  if (sent.length === 0) missing.lines = 'Say what came in it.'
  for (const [place, { promiseId, what, quantity }] of draft.lines.entries()) {
    if (promiseId === null && what.trim() === '') missing[`lines.${place}.words`] = 'Say what it is, or choose a part.'
    const said = countSaid(quantity)
    const isCount = said.howCounted === 'not yet' || (/^\d{1,7}$/.test(said.quantity) && (Number(said.quantity) > 0 || promiseId !== null))
    if (!isCount) missing[`lines.${place}.quantity`] = 'Write how many, such as 20, ca. 20, or ? if it is not counted yet.'
  }
  return missing
}

const isNought = (quantity: string): boolean => quantity.normalize('NFKC').trim() === '0'

/** Everything that was promised is here, in that number. */
export const isAllHere = (draft: Draft, known: Known): boolean =>
  draft.lines.length > 0 &&
  draft.lines.every((line) => {
    const promise = known.promises.find(({ giftId }) => giftId === line.promiseId)
    return promise !== undefined && line.quantity === String(promise.quantity)
  })

/** What is sent, with the place of each line that is: a promise of which nothing came is left out and stays promised. */
export function toParcel(draft: Draft, known: Known): { parcel: ParcelIn; places: number[] } {
  const sent = draft.lines.map((line, place) => ({ line, place })).filter(({ line }) => line.promiseId === null || !isNought(line.quantity))
  const parcel: ParcelIn = {
    key: draft.key,
    lines: sent.map(({ line }) => {
      const partId = line.promiseId === null ? partMeant(line.what, known) : undefined
      const newPart = line.promiseId === null && partId === undefined ? line.fresh?.part : undefined
      return {
        ...(line.promiseId === null ? {} : { promiseId: line.promiseId }),
        ...(partId === undefined ? {} : { partId }),
        ...(newPart === undefined ? {} : { newPart }),
        words: line.promiseId === null && partId === undefined ? line.what : '',
        ...countOf(line.quantity),
        marking: line.marking,
        dateCode: line.dateCode,
        ...restrictionOf(line.onlyFor),
      }
    }),
    note: draft.note,
    ...(draft.donorId === null ? {} : { donorId: draft.donorId }),
    ...(draft.newDonor === null ? {} : { newDonor: draft.newDonor }),
    ...(draft.fromNobody ? { fromNobody: true } : {}),
  }
  return { parcel, places: sent.map(({ place }) => place) }
}

function countOf(typed: string) {
  const { quantity, howCounted } = countSaid(typed)
  return howCounted === 'not yet' ? { howCounted } : { quantity, howCounted }
}

/** A choice of a form, as the house takes it: for one unit, for one design, or for any machine. */
export function restrictionOf(onlyFor: string): { onlyForUnitId?: string; onlyForDesignId?: string } {
  const [kind, id] = onlyFor.split(':')
  return id === undefined ? {} : kind === 'unit' ? { onlyForUnitId: id } : { onlyForDesignId: id }
}

/** From whom a parcel is, in the words of the phone. */
export const senderOf = (draft: Draft, known: Known): string =>
  draft.fromNobody ? 'not known' : (known.donors.find(({ id }) => id === draft.donorId)?.name ?? (draft.newDonor?.name || 'somebody new'))

/** A refusal's fields, back at the lines of the draft that they speak of. */
export function atPlaces(fields: Record<string, string>, places: readonly number[]): Record<string, string> {
  return Object.fromEntries(
    Object.entries(fields).map(([field, words]) => [
      field.replace(/^lines\.(\d+)/, (_all, index: string) => `lines.${places[Number(index)] ?? index}`),
      words,
    ]),
  )
}
