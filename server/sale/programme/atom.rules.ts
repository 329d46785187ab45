import { type Instant, toIso } from '#kernel/instant'
import { sayChange } from './change-words.rules'
import { type DayChange, type DayChanges, ENDS } from './changes.contract'

const MOST_ENTRIES = 50

interface FeedOf {
  publicUrl: string
  /** Dates the feed while nothing has changed yet. */
  startedAt: Instant
  /** The year of the campaign, which dates the ids (RFC 4151). */
  year: number
  /** The signed head of a lot that has ended; null while it has not. */
  headOf: (lot: number) => string | null
}

/** Results and changes as an Atom feed (RFC 4287). Whoever keeps it has the signed head of each lot's history, which nobody can take back. */
export function atomOf(day: DayChanges, feed: FeedOf): string {
  const { publicUrl, startedAt, year } = feed
  const { host } = new URL(publicUrl)
  const entries = day.changes.slice(0, MOST_ENTRIES)
  return [
    '<?xml version="1.0" encoding="utf-8"?>',
    '<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="en">',
    `<id>${escaped(`tag:${bare(host)},${year}:programme`)}</id>`,
    `<title>${escaped(`${day.name}: results and changes`)}</title>`,
    `<updated>${toIso(entries[0]?.at ?? startedAt)}</updated>`,
    `<link rel="self" type="application/atom+xml" href="${escaped(`${publicUrl}/programme.atom`)}"/>`,
    `<link rel="alternate" type="text/html" href="${escaped(`${publicUrl}/programme`)}"/>`,
    `<author><name>${escaped(day.name)}</name></author>`,
    ...entries.map((change) => entryOf(change, day, feed)),
    '</feed>',
    '',
  ].join('\n')
}

function entryOf(change: DayChange, day: DayChanges, { publicUrl, year, headOf }: FeedOf): string {
  const { host } = new URL(publicUrl)
  const head = change.lot !== null && ENDS.includes(change.kind) ? headOf(change.lot) : null
  const proof = head === null ? '' : `\n\nThe signed head of its history:\n${head}`
  const words = sayChange(change, day)
  const link = change.lot === null ? `${publicUrl}/programme#changes` : `${publicUrl}/lots/${change.lot}`
  return [
    '<entry>',
    `<id>${escaped(`tag:${bare(host)},${year}:change-${change.id}`)}</id>`,
    `<title>${escaped(words)}</title>`,
    `<updated>${toIso(change.at)}</updated>`,
    `<published>${toIso(change.at)}</published>`,
    `<link rel="alternate" type="text/html" href="${escaped(link)}"/>`,
    `<category term="${change.kind.replace(' ', '-')}"/>`,
    `<content type="text">${escaped(`${words}${change.why === '' ? '' : `\nWhy: ${change.why}`}${proof}`)}</content>`,
    '</entry>',
  ].join('\n')
}

/** A tag URI (RFC 4151) has no port in its authority. */
const bare = (host: string): string => host.replace(/:\d+$/, '')

/** XML 1.0 has no way to write most control characters, not even escaped: what nobody can see is left out. */
export const escaped = (text: string): string =>
  text
    .replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
