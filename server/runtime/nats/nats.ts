import { readFileSync } from 'node:fs'
import type { MsgHdrs, NatsConnection } from '@nats-io/transport-node'

export interface Nats {
  connection: NatsConnection
  /** Why no server is reached at this moment, in words; null while one is. */
  trouble(): string | null
  /** Called when a server was lost, and when one is reached again. */
  onChange(listener: (trouble: string | null) => void): void
  /** Headers of a message, by their names. */
  headers(entries: Readonly<Record<string, string>>): MsgHdrs
  close(): Promise<void>
}

export interface NatsWishes {
  /** Addresses of the servers of one cluster. */
  urls: readonly string[]
  /** What the servers show of this connection. */
  name: string
  /** A file with credentials, as the servers' operator hands it out. */
  credsFile?: string
  /** How long the first connection may take, in ms. */
  timeoutMs?: number
}

const RECONNECT_MS = 250
/** A server that answers nothing is left after two of these. */
const PING_MS = 2_000

/** Connects to the first server that answers, or says in words why none did. From then on it connects again by itself, for as long as it takes. */
export async function openNats({ urls, name, credsFile, timeoutMs = 4_000 }: NatsWishes): Promise<Nats> {
  // Read only here, so that a house without a NATS_URL loads nothing of it.
  const { connect, credsAuthenticator, headers } = await import('@nats-io/transport-node')
  const servers = urls.join(', ')
  const creds = credsFile === undefined ? undefined : readCreds(credsFile)
  let connection: NatsConnection
  try {
    connection = await connect({
      servers: [...urls],
      name,
      timeout: timeoutMs,
      // Those that were named, and no others that they know of: what lies between may let only these through.
      ignoreClusterUpdates: true,
      reconnect: true,
      maxReconnectAttempts: -1,
      reconnectTimeWait: RECONNECT_MS,
      pingInterval: PING_MS,
      maxPingOut: 2,
      ...(creds === undefined ? {} : { authenticator: credsAuthenticator(creds) }),
    })
  } catch (cause) {
    throw new Error(
      `No NATS server was reached at ${servers} (${wordsOf(cause)}). Set NATS_URL to the address of each of its servers, such as nats://10.0.0.5:4222, with a comma between two, and see that they are running.`,
      { cause },
    )
  }
  const listeners = new Set<(trouble: string | null) => void>()
  let trouble: string | null = null
  const say = (words: string | null) => {
    if (words === trouble) return
    trouble = words
    for (const listener of listeners) listener(words)
  }
  const follow = async () => {
    for await (const { type } of connection.status()) {
      if (type === 'disconnect' || type === 'staleConnection' || type === 'close') say(`No NATS server is reached at ${servers}.`)
      if (type === 'reconnect') say(null)
    }
  }
  void follow()
  return {
    connection,
    trouble: () => trouble,
    onChange: (listener) => void listeners.add(listener),
    headers(entries) {
      const made = headers()
      for (const [name, value] of Object.entries(entries)) made.set(name, value)
      return made
    },
    close: async () => {
      listeners.clear()
      await connection.close()
    },
  }
}

function readCreds(file: string): Uint8Array {
  try {
    return readFileSync(file)
  } catch (cause) {
    throw new Error(`The file ${file}, which NATS_CREDS names, cannot be read. Set it to the credentials of your NATS, or leave it out.`, {
      cause,
    })
  }
}

function wordsOf(reason: unknown): string {
  const words = reason instanceof Error ? reason.message || reason.name : String(reason)
  return /authori/i.test(words) ? 'it did not accept who this house says it is; NATS_CREDS names the file with its credentials' : words
}
