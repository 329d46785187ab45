import type { LotPage } from '#floor/lot-page/lot-page.service'
import { toIso } from '#kernel/instant'
import { plainMoney } from '#kernel/money'
import type { LotFrame } from '#sale/bidding/bidding.contract'

/** schema.org Product and Offer of a lot, for machines; safe inside a script element. */
export function productJson(page: LotPage, frame: LotFrame, home: string): string {
  const { card } = page
  const isToBeHad = frame.fixedPrice?.is === 'to be had'
  const price = frame.fixedPrice?.priceMinor ?? frame.hammerMinor ?? frame.leastNextMinor ?? frame.openingMinor
  const stock = isToBeHad || frame.state === 'open' || frame.state === 'held' ? 'InStock' : frame.state === 'ready' ? 'PreOrder' : 'SoldOut'
  const product = {
    '@context': 'https://schema.org',
    '@type': 'Product',
    name: card.title,
    sku: card.unit,
    description: page.story,
    image: page.photographs.map(({ sha }) => `${home}/files/${sha}-960.webp`),
    ...(price !== null && {
      offers: {
        '@type': 'Offer',
        url: `${home}/lots/${card.number}`,
        price: plainMoney(price, frame.currency),
        priceCurrency: frame.currency,
        availability: `https://schema.org/${stock}`,
        itemCondition: 'https://schema.org/NewCondition',
        ...(frame.closesAt !== null && !isToBeHad && { availabilityEnds: toIso(frame.closesAt), priceValidUntil: toIso(frame.closesAt) }),
        ...(page.seller.name && {
          seller: { '@type': page.seller.kind === 'private' ? 'Person' : 'Organization', name: page.seller.name },
        }),
      },
    }),
  }
  return JSON.stringify(product).replaceAll('<', '\\u003c')
}
