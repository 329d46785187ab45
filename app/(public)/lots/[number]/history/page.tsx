import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { orRefused } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { PricePathPicture } from '#app/_ui/price-path.tsx'
import { When } from '#app/_ui/when.tsx'
import { sayFixedDay, sayFixedPrice } from '#sale/fixed-price/fixed-price-words.rules'
import { openNote } from '#sale/history/checkpoint.rules'
import { sayLeaf } from '#sale/history/leaf-words.rules'
import { shortHead } from '#sale/history/short-head.rules'
import { CheckFile } from './check-file'
import { ENTRIES_ON_A_PAGE, entryPage } from './entry-pages.rules'
import { Findings } from './findings'
import styles from './history.module.css'
import { lookedAt } from './looked-at'
import { ScannedHead } from './scanned-head'

interface Params {
  params: Promise<{ number: string }>
  searchParams: Promise<{ page?: string | string[] }>
}

export async function generateMetadata({ params }: Pick<Params, 'params'>): Promise<Metadata> {
  return { title: `History of lot ${(await params).number}` }
}

/** Everything that happened to a lot, in words, a hundred entries a page, with the result of checking all of it. */
export default async function HistoryPage({ params, searchParams }: Params) {
  const { number } = await params
  if (!/^[1-9]\d{0,8}$/.test(number)) notFound()
  const caller = await api()
  const [history, { campaign }, keys, frame] = await Promise.all([
    caller.bidding.history({ lot: Number(number) }).catch(orRefused),
    caller.people.shell(),
    caller.bidding.houseKeys(),
    caller.bidding.frame({ lot: Number(number) }),
  ])
  if ('refused' in history)
    return (
      <article className="page stack">
        <Crumbs trail={[{ href: `/lots/${number}`, label: `Lot ${number}` }]} />
        <h1>The history of lot {number}</h1>
        <Notice tone="bad" title="It does not hold">
          {history.refused}
        </Notice>
      </article>
    )
  const { page, pages, entries } = entryPage(history.leaves, (await searchParams).page)
  const { findings, path } = await lookedAt(history, keys)
  const zone = campaign?.zone ?? 'utc'
  const head = openNote(history.heads.at(-1)?.checkpoint ?? '')
  const root = head ? Array.from(head.head.root, (byte) => byte.toString(16).padStart(2, '0')).join('') : ''
  return (
    <article className="page stack">
      <Crumbs trail={[{ href: `/lots/${number}`, label: `Lot ${number}` }]} />
      <h1>The history of lot {number}</h1>
      <p>
        {history.title}, {history.unit}. Every entry is part of a tree whose head the house signed when the entry was made, so none can be
        changed or left out later without it showing.
      </p>
      {frame?.fixedPrice && (
        <p>
          It ends with the closing. Since then: {sayFixedPrice(frame.fixedPrice, frame.currency)}, {sayFixedDay(frame.fixedPrice, zone)}.
        </p>
      )}
      <section className="sheet stack" aria-labelledby="checked">
        <h2 id="checked">Checked</h2>
        <ScannedHead lot={history.lot} />
        <Findings findings={findings} />
        <PricePathPicture path={path} currency={history.currency} />
        <CheckFile lot={history.lot} keys={keys} />
        <p>
          Head of {head?.head.size ?? 0} entries: <b className={styles.digits}>{root && shortHead(root)}</b>
        </p>
        <details>
          <summary>The whole head, and how to check it yourself</summary>
          <p className={styles.digits}>{root}</p>
          <p>
            <a href={`/lots/${number}/history.json`}>history.json</a> holds all entries and signed heads;{' '}
            <a href={history.links.keys}>the keys</a> verify them. Entries are hashed as RFC 6962 says, in the canonical JSON of RFC 8785;
            heads are C2SP checkpoints. <a href="/history-format.md">The format is described</a> fully enough to write a checker from.
          </p>
        </details>
      </section>
      <section aria-labelledby="entries">
        <h2 id="entries">{history.leaves.length} entries</h2>
        {pages > 1 && (
          <p>
            The newest come first, {ENTRIES_ON_A_PAGE} on a page; this is page {page} of {pages}. All of them are in{' '}
            <a href={`/lots/${number}/history.json`}>history.json</a>.
          </p>
        )}
        <ol className={`plain-list ${styles.entries}`}>
          {entries.map(({ entry: leaf, place }) => (
            <li key={place} className={styles.entry}>
              <span className="num quiet">{place}</span>
              <span>{sayLeaf(leaf, history.currency)}</span>
              <span className="small quiet">
                <When at={Date.parse(leaf.at)} zone={zone} show="time" brief />
              </span>
            </li>
          ))}
        </ol>
        {pages > 1 && (
          <nav aria-label="Pages of the history" className="row">
            {page > 1 && (
              <Link prefetch={false} href={`?page=${page - 1}#entries`} rel="prev">
                Newer entries
              </Link>
            )}
            {page < pages && (
              <Link prefetch={false} href={`?page=${page + 1}#entries`} rel="next">
                Older entries
              </Link>
            )}
          </nav>
        )}
      </section>
      <section className="stack close">
        <h2>What it does not prove</h2>
        <p>
          That two aliases are two people, that whoever runs the house made no use of what they knew, or that a refused bid was ever made.
          Only its owner can show that the sealed maximum covers the price.
        </p>
        <Link prefetch={false} className="alone" href={`/lots/${number}`}>
          Back to the lot
        </Link>
      </section>
    </article>
  )
}
