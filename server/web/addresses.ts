import { biddingAddresses } from '../bidding/bidding.address'
import { lotsAddresses } from '../lots/lots.address'
import type { Address } from './address'

/** Every public machine-readable address of the house. One line for each room's. */
export const ADDRESSES: readonly Address[] = [...lotsAddresses, ...biddingAddresses]
