import { BlockList, isIP, isIPv4 } from 'node:net'

// A browser names the address that its push service gave it, and anybody can name any address. Nothing is sent to one that
// leads into this machine or the networks around it.

/** Networks that are nobody's on the open Internet (the registries of RFC 6890, as of IPv4 and IPv6). */
const V4 = [
  ...['0.0.0.0/8', '10.0.0.0/8', '100.64.0.0/10', '127.0.0.0/8', '169.254.0.0/16', '172.16.0.0/12', '192.0.0.0/24'],
  ...['192.0.2.0/24', '192.88.99.0/24', '192.168.0.0/16', '198.18.0.0/15', '198.51.100.0/24', '203.0.113.0/24'],
  ...['224.0.0.0/4', '240.0.0.0/4'],
]
/** Of IPv6 only 2000::/3 is given out; within it these are not, or carry an address of IPv4 that could be anything. */
const V6 = ['2001::/23', '2001:db8::/32', '2002::/16', '3fff::/20']

const closed = new BlockList()
for (const [net, bits] of V4.map((one) => one.split('/'))) closed.addSubnet(net as string, Number(bits), 'ipv4')
for (const [net, bits] of V6.map((one) => one.split('/'))) closed.addSubnet(net as string, Number(bits), 'ipv6')
const given = new BlockList()
given.addSubnet('2000::', 3, 'ipv6')

/** Whether an address is one of the open Internet. */
export function isOpenAddress(address: string): boolean {
  if (isIP(address) === 0) return false
  if (isIPv4(address)) return !closed.check(address, 'ipv4')
  return given.check(address, 'ipv6') && !closed.check(address, 'ipv6')
}

/** The last parts of names that no push service has. */
const NOT_OUTSIDE = new Set([
  ...['local', 'localhost', 'localdomain', 'internal', 'intranet', 'private', 'lan', 'home', 'corp'],
  ...['arpa', 'test', 'invalid', 'onion', 'alt'],
])

/** Where a browser asks to be told: why nothing is sent there, or null. Whether a name leads somewhere open is seen when it is asked for. */
export function whyNoPushAddress(endpoint: string, allowed: string | null = null): string | null {
  const NONE = 'Your browser named an address for messages that the house cannot use. Switch them off and on again.'
  if (!URL.canParse(endpoint) || endpoint.length > 1000) return NONE
  const { protocol, port, username, password, hostname, origin } = new URL(endpoint)
  if (allowed !== null && origin === allowed) return null
  if (protocol !== 'https:' || port !== '' || username !== '' || password !== '') return NONE
  const bare = hostname.replace(/^\[/, '').replace(/\]$/, '')
  if (isIP(bare) !== 0) return isOpenAddress(bare) ? null : NONE
  // A name without a dot, one that ends with it, and those that are kept for networks of one's own (RFC 6761, RFC 8375) lead nowhere outside.
  const parts = bare.split('.')
  return parts.length < 2 || parts.includes('') || NOT_OUTSIDE.has(parts.at(-1) ?? '') ? NONE : null
}
