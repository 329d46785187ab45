import type { Instant } from '#kernel/instant'
import { isHttpsAddress } from '#kernel/text'
import type { SoldWhere } from './lots.contract'

export interface GateFacts {
  number: number
  unitTag: string
  now: Instant
  /** Why the unit's certificate does not count, in words; null when it is valid. */
  certificateGap: string | null
  photographs: number
  title: string
  story: string
  openingMinor: number | null
  isReserveDecided: boolean
  causeName: string
  sellerName: string
  sellerKind: string
  cancelWords: string
  postageLines: number
  weightGrams: number | null
  isSizeKnown: boolean
  closesAt: Instant | null
  soldWhere: SoldWhere
  elsewhereUrl: string | null
}

/** One thing that keeps a lot from opening, with where it is put right. */
export interface Missing {
  what: string
  words: string
  where: { href: string; label: string }
}

/** All that is missing before a lot may open, in the order in which it is best put right; empty: the gate is open. */
export function lotGate(facts: GateFacts): Missing[] {
  const lot = (anchor: string, label: string) => ({ href: `/bench/lots/${facts.number}#${anchor}`, label })
  const campaign = { href: '/bench/campaign', label: 'The campaign' }
  const programme = { href: '/bench/programme', label: 'The programme' }
  const missing: Missing[] = []
  const need = (holds: boolean, what: string, words: string, where: Missing['where']) => {
    if (!holds) missing.push({ what, words, where })
  }
  need(facts.certificateGap === null, 'certificate', facts.certificateGap ?? '', {
    href: `/bench/units/${facts.unitTag}`,
    label: `${facts.unitTag} at the bench`,
  })
  need(facts.title !== '' && facts.story !== '', 'story', 'Say what it is, with a title and a story.', lot('title', 'Title and story'))
  need(facts.photographs > 0, 'photograph', 'There is no photograph. One is enough.', lot('photographs', 'Photographs'))
  need(facts.openingMinor !== null, 'opening', 'There is no opening price.', lot('opening', 'Opening price'))
  need(facts.isReserveDecided, 'reserve', 'Decide whether there is a reserve; “none” is fine too.', lot('reserveKind', 'Reserve'))
  need(facts.weightGrams !== null, 'weight', 'Weigh it as it will be sent.', lot('weightGrams', 'Weight'))
  need(facts.isSizeKnown, 'size', 'Measure it as it will be sent: length, width and height.', lot('lengthMm', 'Size'))
  need(facts.postageLines > 0, 'postage', 'Say where it can be sent and for how much.', lot('postage', 'Postage'))
  need(facts.causeName !== '', 'cause', 'Say who benefits, and with what share.', campaign)
  need(
    facts.sellerName !== '' && facts.sellerKind !== '',
    'seller',
    'Say who sells: a name, and whether privately, in trade or as a charity.',
    campaign,
  )
  need(
    facts.cancelWords !== '',
    'cancellation',
    'Say how a buyer can cancel. What must be offered depends on the country and the seller.',
    campaign,
  )
  need(facts.closesAt !== null, 'closing', 'Set its closing.', programme)
  need(facts.closesAt === null || facts.closesAt > facts.now, 'closing', 'Its closing is in the past. Set a later one.', programme)
  need(
    facts.soldWhere === 'here' || isHttpsAddress(facts.elsewhereUrl ?? ''),
    'elsewhere',
    'It is sold elsewhere: give the address, beginning with https://.',
    lot('elsewhereUrl', 'Address'),
  )
  return missing
}
