import type { Instant } from '#kernel/instant'

/** One thing that goes into the parcel. */
export interface PackingItem {
  key: string
  what: string
  note: string
  /** A photograph shows later that it was there, and in which state. */
  wantsPhotograph: boolean
  /** The paper to print for it. */
  paper: string | null
}

export interface PackingFacts {
  lot: number
  unit: string
  design: string
  serial: string | null
  extras: readonly string[]
  cautions: readonly string[]
  boxCode: string
  /** It leaves the country. */
  isAbroad: boolean
}

/** What goes in, in the order in which it is best put in: the machine first, papers on top. */
export function packingItems({ lot, unit, design, serial, extras, cautions, boxCode, isAbroad }: PackingFacts): PackingItem[] {
  const item = (key: string, what: string, note: string, paper: string | null = null, wantsPhotograph = false): PackingItem => ({
    key,
    what,
    note,
    wantsPhotograph,
    paper,
  })
  return [
    item('unit', `${unit}, ${design}`, serial ?? 'no valid certificate: do not send it', null, true),
    ...extras.map((extra, index) => item(`extra-${index}`, extra, 'extra', null, true)),
    item('card', 'Certificate card (A6)', `code of the box ${boxCode}`, `/bench/units/${unit}/card.pdf`),
    item(
      'cautions',
      'Cautions',
      cautions.length === 0 ? 'none written for this design' : `${cautions.length} of the design`,
      `/bench/sending/${lot}/cautions.pdf`,
    ),
    item('disposal', 'Disposal leaflet', 'what to do with it at the end of its life', `/bench/sending/${lot}/disposal.pdf`),
    item('credits', 'Credits card', 'who gave, as they agreed to be printed', `/bench/sending/${lot}/credits.pdf`),
    item('repeat', 'How to repeat the checks', 'for a common meter', `/bench/sending/${lot}/repeat.pdf`),
    ...(isAbroad ? [item('customs', 'Customs draft, on the outside', 'it leaves the country', `/bench/sending/${lot}/customs.pdf`)] : []),
    item('closed', 'Parcel closed and labelled', 'the last look', null, true),
  ]
}

/** What a parcel has once, however many lots are in it. */
export const SHARED_ITEMS: readonly string[] = ['customs', 'closed']

/** The same by their keys, which hang on nothing but these two. */
export const packingKeys = ({ extras, isAbroad }: Pick<PackingFacts, 'extras' | 'isAbroad'>): string[] =>
  packingItems({ lot: 0, unit: '', design: '', serial: null, extras, cautions: [], boxCode: '', isAbroad }).map(({ key }) => key)

/** Where the sending of a lot stands. */
export const SENDING_STAGES = ['unpaid', 'no address', 'to pack', 'packing', 'packed', 'sent', 'arrived'] as const
export type SendingStage = (typeof SENDING_STAGES)[number]

export interface SendingFacts {
  owedMinor: number
  hasAddress: boolean
  items: readonly { key: string; isPacked: boolean }[]
  sentAt: Instant | null
  arrivedAt: Instant | null
}

export function sendingStage({ owedMinor, hasAddress, items, sentAt, arrivedAt }: SendingFacts): SendingStage {
  if (arrivedAt !== null) return 'arrived'
  if (sentAt !== null) return 'sent'
  if (owedMinor > 0) return 'unpaid'
  if (!hasAddress) return 'no address'
  const packed = items.filter(({ isPacked }) => isPacked).length
  if (packed === 0) return 'to pack'
  return packed === items.length ? 'packed' : 'packing'
}

export const STAGE_WORDS: Record<SendingStage, { tone: 'plain' | 'copper' | 'doubt' | 'ok'; words: string }> = {
  unpaid: { tone: 'plain', words: 'Not paid yet' },
  'no address': { tone: 'doubt', words: 'Waiting for the address' },
  'to pack': { tone: 'copper', words: 'To pack' },
  packing: { tone: 'copper', words: 'Being packed' },
  packed: { tone: 'copper', words: 'Packed, ready to send' },
  sent: { tone: 'ok', words: 'On its way' },
  arrived: { tone: 'ok', words: 'Arrived' },
}

export interface DispatchFacts extends SendingFacts {
  cells: string
  mains: string
  weightGrams: number | null
  serial: string | null
  wanted: readonly { key: string; what: string; hasPhotograph: boolean; wantsPhotograph: boolean }[]
}

/** All that stands between a parcel and the carrier, in words; empty when it may go. */
export function whyNotSent(facts: DispatchFacts): string[] {
  const missing = facts.wanted.filter(({ key }) => !facts.items.find((item) => item.key === key)?.isPacked).map(({ what }) => what)
  const unseen = facts.wanted.filter(({ wantsPhotograph, hasPhotograph }) => wantsPhotograph && !hasPhotograph).map(({ what }) => what)
  return [
    ...(facts.owedMinor > 0 ? ['It is not paid in full.'] : []),
    ...(facts.hasAddress ? [] : ['The buyer has not said where to send it.']),
    ...(facts.serial === null ? ['The unit has no valid certificate.'] : []),
    ...(facts.cells === 'unsaid' ? ['Say whether there are cells in the parcel.'] : []),
    ...(facts.mains === 'unsaid' ? ['Say whether it runs from the mains.'] : []),
    ...(facts.weightGrams === null ? ['Weigh the packed parcel.'] : []),
    ...(missing.length > 0 ? [`Not packed yet: ${missing.join('; ')}.`] : []),
    ...(unseen.length > 0 ? [`No photograph yet of: ${unseen.join('; ')}.`] : []),
  ]
}
