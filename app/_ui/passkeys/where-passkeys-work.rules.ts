export interface Place {
  /** Whether the browser holds the page to have come safely: over HTTPS, or from this very machine. */
  isSecure: boolean
  /** Whether the browser has passkeys at all. */
  knowsPasskeys: boolean
  /** The origin that the page was opened at. */
  origin: string
  /** Where the house is reached, by its own setting: passkeys are made for the name in it. */
  publicUrl: string
}

/** Why a passkey cannot be used on a page that is open here, and what will do instead; null where it can. */
export function whyNoPasskey({ isSecure, knowsPasskeys, origin, publicUrl }: Place): string | null {
  const house = new URL(publicUrl)
  const isPlain = house.protocol === 'http:' && house.hostname !== 'localhost'
  if (isPlain) return `Passkeys need HTTPS, and this house is reached at ${house.origin}. A code by email works here.`
  if (isNumber(house.hostname))
    return 'Passkeys need a name in the address of the house, and this house has a number. A code by email works.'
  if (origin !== house.origin) return `Passkeys work at ${house.origin}, and this page was opened at ${origin}. A code by email works here.`
  if (!isSecure) return 'This page came over plain HTTP, where the browser withholds passkeys. A code by email works here.'
  return knowsPasskeys ? null : 'This browser has no passkeys. A code by email works in any.'
}

const isNumber = (host: string): boolean => host.startsWith('[') || /^\d+(\.\d+){3}$/.test(host)
