import type { Role } from '#kernel/role'
import type { PaperOrder } from '#paper/order'
import type { PaperSize } from '#paper/paper'
import type { Actor, Sight } from '../queue/turn'

/** What an address answers: bytes of a type, or a paper that is to be printed. */
export interface Answer {
  type: string
  body: string | Uint8Array | { print: PaperOrder }
  /** How long a cache may keep it; a second unless told. */
  keepSeconds?: number
  /** Offered as a file of this name. */
  fileName?: string
}

/** An address that gives a file or data, answered outside Next. `:name` matches one segment or a part of it up to a dot. */
export interface Address {
  path: string
  /** Who may ask; anybody unless told. What only some may have is kept by no cache. */
  audience?: 'staff' | 'signed in' | readonly Role[]
  /** The words behind a question mark that it reads. What everybody may see is made once for all who ask alike, so of its others none counts. */
  reads?: readonly string[]
  /** null: there is no such thing, or none that this reader may have. `actor` is there wherever an audience is named. */
  answer(sight: Sight, params: Record<string, string>, query: URLSearchParams, actor?: Actor | null): Answer | null
}

export const json = (body: unknown): Answer => ({ type: 'application/json; charset=utf-8', body: JSON.stringify(body) })

export const bytes = (type: string, body: string | Uint8Array, fileName?: string): Answer => ({ type, body, fileName })

/** A paper as PDF. The address reads what stands on it; the press sets it, off the thread that takes bids. */
export const printed = (print: PaperOrder, fileName: string): Answer => ({ type: 'application/pdf', body: { print }, fileName })

/** The sheet that `?paper=` asks for. */
export const sheetAsked = (query: URLSearchParams): PaperSize => (query.get('paper') === 'letter' ? 'letter' : 'a4')

/** Each address as a pattern, made once. A parameter takes what stands between two signs, so no part is read twice. */
const patterns = new Map<string, RegExp>()

function patternOf({ path }: Address): RegExp {
  const before = patterns.get(path)
  if (before) return before
  const parts = path.split(/(:\w+)/).map((part) => (part.startsWith(':') ? `(?<${part.slice(1)}>[^/.]+)` : part.replaceAll('.', '\\.')))
  const pattern = new RegExp(`^${parts.join('')}$`)
  patterns.set(path, pattern)
  return pattern
}

/** The first address that matches, with its parameters decoded. */
export function matchAddress(addresses: readonly Address[], path: string): { address: Address; params: Record<string, string> } | null {
  for (const address of addresses) {
    const match = patternOf(address).exec(path)
    if (!match) continue
    try {
      const params = Object.entries(match.groups ?? {}).map(([name, value]) => [name, decodeURIComponent(value)])
      return { address, params: Object.fromEntries(params) as Record<string, string> }
    } catch {
      // A malformed percent sign names nothing.
      return null
    }
  }
  return null
}
