import type { Log } from '../settings/log'

/**
 * Whether the house seems to stand behind a proxy that no setting names: then all visitors come from one address, and what
 * is limited for each is limited for all of them together.
 */
export interface UnnamedProxy {
  /** Logged once. */
  found(): void
  isThere(): boolean
}

export function openUnnamedProxy(log: Log): UnnamedProxy {
  let isThere = false
  return {
    found() {
      if (!isThere)
        log.warn(
          'all visitors look like one: a proxy stands before the house. Set TRUSTED_PROXY to the header in which it says whom it asks for',
        )
      isThere = true
    },
    isThere: () => isThere,
  }
}
