import { biddingAddresses } from '../bidding/bidding.address'
import { certificateAddresses } from '../certificates/certificates.address'
import { creditsAddresses } from '../credits/credits.address'
import { paperAddresses } from '../documents/papers.address'
import { keepingAddresses } from '../keeping/keeping.address'
import { lotsAddresses } from '../lots/lots.address'
import { moneyAddresses } from '../money/money.address'
import { labelsAddresses } from '../parts/labels.address'
import { programmeAddresses } from '../programme/programme.address'
import { sendingAddresses } from '../sending/sending.address'
import type { Address } from './address'

/** Every public machine-readable address of the house. One line for each room's. */
export const ADDRESSES: readonly Address[] = [
  ...lotsAddresses,
  ...biddingAddresses,
  ...certificateAddresses,
  ...creditsAddresses,
  ...keepingAddresses,
  ...moneyAddresses,
  ...labelsAddresses,
  ...programmeAddresses,
  ...paperAddresses,
  ...sendingAddresses,
]
