import type { IncomingHttpHeaders } from 'node:http'
import { asksForPart } from '../pages/keepable.rules'
import { packingFor } from '../pages/packing.rules'

/** An answer that a cache may give to others (RFC 9111), and for how long. */
export interface Shareable {
  freshMs: number
  /** It never changes under this address. */
  isImmutable: boolean
}

/** What a page is told apart by from its parts, which are never kept. */
const TOLD_APART = ['rsc', 'next-router-state-tree', 'next-router-prefetch', 'next-router-segment-prefetch', 'next-url']
/** Requests with a cookie, or for a part, are never answered from what is kept, so that makes no difference among the rest. */
const MAY_VARY = new Set([...TOLD_APART, 'accept-encoding', 'cookie'])

/** Between one machine and the next alone (RFC 9110, 7.6.1). */
const HOP_BY_HOP = [
  'connection',
  'keep-alive',
  'proxy-authenticate',
  'proxy-authorization',
  'te',
  'trailer',
  'transfer-encoding',
  'upgrade',
]

/** By these the next machine knows whose message it reads and where it ends: no `connection` takes them away. */
const NEVER_NAMED = ['content-length', 'host']

/** Whether anything comes after the head of a request. */
export const bringsBody = (headers: IncomingHttpHeaders): boolean =>
  headers['transfer-encoding'] !== undefined || Number(headers['content-length'] ?? 0) !== 0

/** How the next machine is told where the body of a request ends: as it was told here, and never in two ways. Nothing where there is none. */
export function framingOf(headers: IncomingHttpHeaders): Record<string, string> {
  if (!bringsBody(headers)) return {}
  const { 'content-length': length } = headers
  return headers['transfer-encoding'] !== undefined || length === undefined
    ? { 'transfer-encoding': 'chunked' }
    : { 'content-length': length }
}

/** Headers as they go on to the next machine: without those that are between two, and those that `connection` names. */
export function endToEnd(headers: IncomingHttpHeaders): IncomingHttpHeaders {
  const named = String(headers.connection ?? '')
    .toLowerCase()
    .split(',')
    .map((name) => name.trim())
  return Object.fromEntries(
    Object.entries(headers).filter(([name]) => !HOP_BY_HOP.includes(name) && (!named.includes(name) || NEVER_NAMED.includes(name))),
  )
}

/** An address that is longer has nothing that many ask for. */
const LONGEST_ADDRESS = 300

/** Null for a request that has to be answered for itself. */
export function sharedKey(method: string, path: string, headers: IncomingHttpHeaders): string | null {
  const isForOne =
    headers.cookie !== undefined || headers.authorization !== undefined || headers.range !== undefined || asksForPart(headers)
  if ((method !== 'GET' && method !== 'HEAD') || isForOne || path.length > LONGEST_ADDRESS) return null
  return `${path}\n${packingFor(headers['accept-encoding'])}`
}

/** Null for an answer that is for whoever asked alone. Nothing is kept but what says `public`. */
export function shareable(status: number, headers: IncomingHttpHeaders): Shareable | null {
  const says = new Map(
    String(headers['cache-control'] ?? '')
      .toLowerCase()
      .split(',')
      .map((one) => {
        const [name = '', value] = one.trim().split('=')
        return [name, value] as const
      }),
  )
  if (status !== 200 || headers['set-cookie'] !== undefined || !says.has('public')) return null
  if (says.has('no-store') || says.has('private') || says.has('no-cache')) return null
  const varies = String(headers.vary ?? '')
    .toLowerCase()
    .split(',')
    .map((name) => name.trim())
    .filter(Boolean)
  if (!varies.every((name) => MAY_VARY.has(name))) return null
  const seconds = Number(says.get('s-maxage') ?? says.get('max-age')) - Number(headers.age ?? 0)
  return seconds > 0 ? { freshMs: seconds * 1000, isImmutable: says.has('immutable') } : null
}

/** Whether an answer that is not to be shared says so of its address, and not of whoever asked, what they asked with, or a bad moment. */
export const isOfAddress = (status: number): boolean =>
  status === 200 || (status >= 300 && status < 400) || status === 404 || status === 410
