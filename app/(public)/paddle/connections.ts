import type { DisclosureKind } from '#sale/bidders/disclosures.contract'

/** Each answer to "are you connected?", as it is chosen and as it is read back. */
export const CONNECTIONS: Record<DisclosureKind, string> = {
  none: 'I have no connection with the sale',
  gave: 'I gave parts, work or money to it',
  household: 'I live or work with one of its staff',
  worked: 'I built, tested, priced or looked after a machine in it',
}
