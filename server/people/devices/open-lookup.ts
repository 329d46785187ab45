import { Resolver } from 'node:dns/promises'
import type { LookupFunction } from 'node:net'
import { isOpenAddress } from './push-address'

/**
 * Looks up a name that a browser gave, once: the connection goes to what was found, and a name that leads into our own networks is
 * not reached. The name servers are asked straight, and not by the operating system on one of the few threads that the whole
 * process has for it: names that are never answered hold up nothing but their own connection, and no longer than `longestMs`.
 */
export function openLookup({ longestMs, servers }: { longestMs: number; servers?: readonly string[] | null }): LookupFunction {
  return (hostname, _options, done) => {
    addressesOf(hostname, longestMs, servers ?? null).then(
      (found) => {
        if (found.every(({ address }) => isOpenAddress(address))) done(null, found)
        else done(fault('ECONNREFUSED', 'it leads into a closed network'), [])
      },
      () => done(fault('ENOTFOUND', 'its name is not known'), []),
    )
  }
}

const fault = (code: string, words: string) => Object.assign(new Error(words), { code })

async function addressesOf(hostname: string, longestMs: number, servers: readonly string[] | null) {
  const resolver = new Resolver({ timeout: longestMs, tries: 1 })
  if (servers) resolver.setServers(servers)
  // Several name servers that say nothing are asked one after the other.
  const timer = setTimeout(() => resolver.cancel(), longestMs)
  try {
    const [four, six] = await Promise.allSettled([resolver.resolve4(hostname), resolver.resolve6(hostname)])
    const found = [
      ...(four.status === 'fulfilled' ? four.value.map((address) => ({ address, family: 4 })) : []),
      ...(six.status === 'fulfilled' ? six.value.map((address) => ({ address, family: 6 })) : []),
    ]
    if (found.length === 0) throw new Error('no name server knows it')
    return found
  } finally {
    clearTimeout(timer)
  }
}
