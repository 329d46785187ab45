'use client'

import Link from 'next/link'
import { useEffect, useRef } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { ParcelKept } from '#gifts/parcels/parcel.contract'
import { countedThing } from '#stock/donors/count-words.rules'
import { listWords } from '#stock/donors/gift.rules'
import styles from './parcel.module.css'

/** What the house made of it: the code to write on each bag, and which units can be built now. */
export function KeptParcel({ kept, onNext }: { kept: ParcelKept; onNext: () => void }) {
  const head = useRef<HTMLHeadingElement>(null)
  useEffect(() => head.current?.focus(), [])
  const { lines, unblocked } = kept
  return (
    <div className="stack">
      <h1 ref={head} tabIndex={-1}>
        Logged, from {kept.donorName}
      </h1>
      {unblocked.length > 0 && (
        <Notice tone="ok" title={`${listWords(unblocked, 'and')} can be built now`}>
          <p>Everything that {unblocked.length === 1 ? 'it' : 'they'} still lacked is in hand. Tell the maker.</p>
        </Notice>
      )}
      <ul className="plain-list stack">
        {lines.map((line) => (
          <li key={line.batchCode ?? line.what}>
            {line.batchCode ? (
              <Tag code={line.batchCode}>
                <b>{countedThing(line, line.what)}</b>
                <span className="small quiet">
                  {line.wasPromised ? 'As promised. ' : 'Nobody had promised it. '}Write {line.batchCode} on the bag.
                </span>
              </Tag>
            ) : (
              <p className={styles.kept}>
                <b>{countedThing(line, line.what)}</b>
              </p>
            )}
          </li>
        ))}
      </ul>
      <div className="row">
        <button type="button" className="button" onClick={onNext}>
          The next parcel
        </button>
        <Link className="button-line" href="/bench/parcels">
          All parcels
        </Link>
      </div>
    </div>
  )
}

/** Without a connection there is nothing more to do: it is on the phone, and says so. */
export function OnThePhone({ from, onNext }: { from: string; onNext: () => void }) {
  const head = useRef<HTMLHeadingElement>(null)
  useEffect(() => head.current?.focus(), [])
  return (
    <div className="stack">
      <h1 ref={head} tabIndex={-1}>
        Saved on this phone, from {from}
      </h1>
      <p>
        The house cannot be reached just now. The parcel is sent automatically, once, when it can be; then the codes for its bags are shown
        here. You can close the page or put the phone away.
      </p>
      <button type="button" className="button" onClick={onNext}>
        Log the next parcel
      </button>
    </div>
  )
}
