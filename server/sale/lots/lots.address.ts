import { toIso } from '#kernel/instant'
import { type Address, json } from '#runtime/call/address'
import type { LotCard } from './lots.contract'
import { listPublicLots } from './lots.service'

const fixedPriceJson = ({ fixedPrice }: LotCard) =>
  fixedPrice?.is === 'sold' ? { ...fixedPrice, soldAt: toIso(fixedPrice.soldAt) } : fixedPrice

export const lotsAddresses: Address[] = [
  {
    path: '/lots.json',
    answer: (sight) =>
      json({
        lots: listPublicLots(sight).map((lot) => ({
          number: lot.number,
          title: lot.title,
          state: lot.state,
          unit: lot.unit,
          currency: lot.currency,
          openingMinor: lot.openingMinor,
          standingMinor: lot.standingMinor,
          hammerMinor: lot.hammerMinor,
          // What stands of the price, once that is no longer what the hammer fell at; nought where the sale fell through.
          ...(lot.standsMinor !== undefined && { standsMinor: lot.standsMinor }),
          ...(lot.afterwards && { afterwards: lot.afterwards }),
          bids: lot.bids,
          reserve: lot.reserve,
          closesAt: lot.closesAt === null ? null : toIso(lot.closesAt),
          endedAt: lot.endedAt === null ? null : toIso(lot.endedAt),
          soldWhere: lot.soldWhere,
          fixedPrice: fixedPriceJson(lot),
          links: {
            page: `/lots/${lot.number}`,
            record: `/units/${lot.unit}/record.json`,
            ...(lot.ledgerSize > 0 && { history: `/lots/${lot.number}/history.json` }),
            ...(lot.elsewhereUrl && { elsewhere: lot.elsewhereUrl }),
          },
        })),
      }),
  },
]
