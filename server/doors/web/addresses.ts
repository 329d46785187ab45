import { certificateAddresses } from '#bench/certificates/certificates.address'
import { keepingAddresses } from '#end/keeping/keeping.address'
import { recordAddresses } from '#floor/record/record.address'
import { creditsAddresses } from '#gifts/credits/credits.address'
import { moneyAddresses } from '#money/journal/money.address'
import { sendingAddresses } from '#money/sending/sending.address'
import type { Address } from '#runtime/call/address'
import { biddingAddresses } from '#sale/bidding/bidding.address'
import { lotsAddresses } from '#sale/lots/lots.address'
import { programmeAddresses } from '#sale/programme/programme.address'
import { labelsAddresses } from '#stock/shelf/labels.address'
import { paperAddresses } from '../papers/papers.address'

/** Every public machine-readable address of the house. One line for each room's. */
export const ADDRESSES: readonly Address[] = [
  ...lotsAddresses,
  ...biddingAddresses,
  ...certificateAddresses,
  ...recordAddresses,
  ...creditsAddresses,
  ...keepingAddresses,
  ...moneyAddresses,
  ...labelsAddresses,
  ...programmeAddresses,
  ...paperAddresses,
  ...sendingAddresses,
]
