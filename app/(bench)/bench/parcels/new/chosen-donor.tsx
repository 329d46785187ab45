'use client'

import { Awaited } from './donor-picker'
import type { Draft, Known } from './draft.rules'
import { NewDonor } from './new-donor'
import styles from './parcel.module.css'
import { changeDraft } from './phone-box'

interface ChosenDonorProps {
  draft: Draft
  /** Of the donors known; undefined for somebody new and for nobody known. */
  donor: Known['donors'][number] | undefined
  known: Known
  zone: string
}

/** From whom it is, as was chosen: another choice clears the lines that came with this one. */
export function ChosenDonor({ draft, donor, known, zone }: ChosenDonorProps) {
  return (
    <>
      <div className={styles.chosen}>
        <span className={`${styles.eyelet} ${styles.full}`} aria-hidden="true" />
        <span>
          <b>{draft.fromNobody ? 'Nobody knows' : (donor?.name ?? (draft.newDonor?.name || 'Somebody new'))}</b>
          {donor ? (
            <Awaited known={known} zone={zone} donorId={donor.id} />
          ) : (
            <span className={styles.awaited}>{draft.fromNobody ? 'to be claimed later, from the list of parcels' : 'somebody new'}</span>
          )}
        </span>
        <button
          type="button"
          className={styles.change}
          onClick={() => changeDraft((now) => ({ ...now, donorId: null, newDonor: null, fromNobody: false, lines: [] }))}
        >
          Change<span className="visually-hidden"> the donor</span>
        </button>
      </div>
      {draft.newDonor && (
        <NewDonor
          donor={draft.newDonor}
          onChange={(change) => changeDraft((now) => (now.newDonor ? { ...now, newDonor: { ...now.newDonor, ...change } } : now))}
        />
      )}
    </>
  )
}
