'use client'

import { useState } from 'react'
import { When } from '#app/_ui/when.tsx'
import { ConsentSwitches } from '#app/(bench)/bench/donors/consent-switches.tsx'
import { consentWords } from '#stock/donors/consent.rules'
import type { Known } from './draft.rules'
import styles from './parcel.module.css'

/** What a known donor said about being named, with the date; to be changed here when the letter in the parcel says otherwise. */
export function MayWeName({ donor, zone }: { donor: Known['donors'][number]; zone: string }) {
  const [open, setOpen] = useState(false)
  return (
    <div className="stack close">
      <p className="small">
        <b>May we name them?</b> {consentWords(donor.consents)}{' '}
        {donor.consentAt !== null && (
          <span className="quiet">
            Said on <When at={donor.consentAt} zone={zone} show="day" brief />.
          </span>
        )}{' '}
        {!open && (
          <button type="button" className={styles.change} onClick={() => setOpen(true)}>
            Change<span className="visually-hidden"> what they consent to</span>
          </button>
        )}
      </p>
      {open && <ConsentSwitches donorId={donor.id} consents={donor.consents} />}
    </div>
  )
}
