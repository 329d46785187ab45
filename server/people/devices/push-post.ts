import { type IncomingMessage, request as inClear } from 'node:http'
import { request } from 'node:https'
import type { LookupFunction } from 'node:net'
import webPush from 'web-push'
import { openLookup } from './open-lookup'
import { whyNoPushAddress } from './push-address'
import type { PushKeys } from './push-keys'

/** A push service takes at most 4096 bytes (RFC 8030 section 7.2); with what the encryption adds, so many are left for the words. */
export const MOST_PUSHED_BYTES = 3_800

const LONGEST_MS = 5_000
/** Of that, so much may go by until a name is known: no look-up is under way any more when another message takes its lane. */
const LOOK_UP_SHARE = 0.6

export interface PushTo {
  endpoint: string
  p256dh: string
  auth: string
}

export interface Pushed {
  /** JSON for the worker that shows it. */
  words: string
  ttlSeconds: number
  isUrgent: boolean
  /** A later message of the same topic takes the place of one that the push service has not handed over yet. */
  topic: string
}

/** What became of it: taken; the device is gone for good; refused, so that trying again is no use; or not reached. */
export type PushAnswer = 'taken' | 'gone' | 'refused' | 'not reached'

export interface PushPost {
  send(to: PushTo, pushed: Pushed): Promise<PushAnswer>
}

/**
 * Hands messages to push services: encrypted for the browser (RFC 8291), signed with the house's key (RFC 8292). No redirect
 * is followed, no answer is read, and the name of a service has to lead to the open Internet at the very connection.
 * `allowed` names one origin for which none of this holds, and `nameServers` whom to ask for names, for tests.
 */
export function openPushPost(parts: {
  keys: PushKeys
  subject: string
  allowed?: string | null
  nameServers?: readonly string[]
  longestMs?: number
}): PushPost {
  const { keys, subject, allowed = null, longestMs = LONGEST_MS } = parts
  const lookup = openLookup({ longestMs: longestMs * LOOK_UP_SHARE, servers: parts.nameServers })
  return {
    async send({ endpoint, p256dh, auth }, { words, ttlSeconds, isUrgent, topic }) {
      if (whyNoPushAddress(endpoint, allowed) !== null) return 'refused'
      const isAllowed = new URL(endpoint).origin === allowed
      const details = webPush.generateRequestDetails({ endpoint, keys: { p256dh, auth } }, words, {
        vapidDetails: { subject, ...keys },
        TTL: Math.max(0, Math.round(ttlSeconds)),
        urgency: isUrgent ? 'high' : 'normal',
        topic,
        contentEncoding: 'aes128gcm',
      })
      const { status, failed } = await post(endpoint, details, isAllowed ? null : lookup, longestMs)
      if (failed) return 'not reached'
      if (status >= 200 && status < 300) return 'taken'
      if (status === 404 || status === 410) return 'gone'
      return status === 429 || status >= 500 ? 'not reached' : 'refused'
    },
  }
}

interface Details {
  headers: Record<string, string | number>
  body: Buffer | null
}

/** Without a `lookup` it goes to the allowed origin, wherever that is. */
const post = (endpoint: string, details: unknown, lookup: LookupFunction | null, longestMs: number) =>
  new Promise<{ status: number; failed: boolean }>((resolve) => {
    const { headers, body } = details as Details
    const signal = AbortSignal.timeout(longestMs)
    const options = { method: 'POST', headers, signal, agent: false, ...(lookup && { lookup }) } as const
    const heard = (answer: IncomingMessage) => {
      resolve({ status: answer.statusCode ?? 0, failed: false })
      // What it says beside its status is nobody's business here, however long it is.
      answer.destroy()
    }
    const asked = !lookup && endpoint.startsWith('http:') ? inClear(endpoint, options, heard) : request(endpoint, options, heard)
    asked.on('error', () => resolve({ status: 0, failed: true }))
    asked.end(body)
  })
