/** Where somebody of each role begins their work. */
export const HOME = {
  maker: '/bench',
  volunteer: '/bench/parcels/new',
  treasurer: '/bench/money',
  host: '/air/host',
  bidder: '/me',
} as const
