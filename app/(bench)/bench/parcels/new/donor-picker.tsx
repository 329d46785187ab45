'use client'

import { useState } from 'react'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { When } from '#app/_ui/when.tsx'
import { listWords } from '#stock/donors/gift.rules'
import { type Known, whoIsMeant } from './draft.rules'
import styles from './parcel.module.css'

interface DonorPickerProps {
  known: Known
  zone: string
  onDonor: (donorId: string) => void
  onSomebodyNew: (name: string) => void
  onNobody: () => void
}

/** Who sent it: those whose promises are awaited are there to be tapped, the rest appear as one types. */
export function DonorPicker({ known, zone, onDonor, onSomebodyNew, onNobody }: DonorPickerProps) {
  const [typed, setTyped] = useState('')
  const meant = whoIsMeant(typed, known)
  return (
    <div className="stack close">
      <TextField
        name="donorId"
        label="From whom?"
        hint={typed === '' && meant.length > 0 ? 'Expected, or type a name:' : undefined}
        value={typed}
        onChange={(event) => setTyped(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key !== 'Enter') return
          event.preventDefault()
          const [first] = meant
          if (first) onDonor(first.id)
          else if (typed.trim() !== '') onSomebodyNew(typed.trim())
        }}
        autoComplete="off"
        maxLength={120}
      />
      <ul className={`plain-list ${styles.donors}`} aria-label="Donors">
        {meant.map((donor) => (
          <li key={donor.id}>
            <button type="button" className={styles.donor} onClick={() => onDonor(donor.id)}>
              <span className={styles.eyelet} aria-hidden="true" />
              <span>
                <b>{donor.name}</b>
                <Awaited known={known} zone={zone} donorId={donor.id} />
              </span>
            </button>
          </li>
        ))}
        {typed.trim() !== '' && (
          <li>
            <button type="button" className={styles.donor} onClick={() => onSomebodyNew(typed.trim())}>
              <span className={`${styles.eyelet} ${styles.open}`} aria-hidden="true" />
              <span>
                <b>{typed.trim()}</b>
                <span className={styles.awaited}>somebody new</span>
              </span>
            </button>
          </li>
        )}
        {typed.trim() === '' && (
          <li>
            <button type="button" className={styles.donor} onClick={onNobody}>
              <span className={`${styles.eyelet} ${styles.open}`} aria-hidden="true" />
              <span>
                <b>Nobody knows</b>
                <span className={styles.awaited}>no name on it; to be claimed later</span>
              </span>
            </button>
          </li>
        )}
      </ul>
      <p role="status" className="visually-hidden">
        {typed !== '' && `${meant.length} with that name`}
      </p>
    </div>
  )
}

export function Awaited({ known, zone, donorId }: { known: Known; zone: string; donorId: string }) {
  const promises = known.promises.filter((promise) => promise.donorId === donorId)
  const [first] = promises
  if (!first) return <span className={styles.awaited}>nothing promised</span>
  return (
    <span className={styles.awaited}>
      promised{' '}
      {listWords(
        promises.map(({ quantity, what }) => `${quantity} × ${what}`),
        'and',
      )}{' '}
      on <When at={first.promisedAt} zone={zone} show="day" brief />
    </span>
  )
}
