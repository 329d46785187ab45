'use client'

import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import { Awaited } from './donor-picker'
import { asSentBy, type Draft, type Known, whoMayHaveSent, withAnotherLine } from './draft.rules'
import { LineRow } from './line-row'
import styles from './parcel.module.css'
import { changeDraft } from './phone-box'

/** What came, line by line; of a parcel from nobody known also who may have sent it. */
export function ParcelContent({ draft, known, zone }: { draft: Draft; known: Known; zone: string }) {
  const mayBe = draft.fromNobody ? whoMayHaveSent(draft, known) : []
  return (
    <>
      <div>
        {draft.lines.map((line, place) => (
          <LineRow
            key={line.id}
            line={line}
            place={place}
            known={known}
            onChange={(change) =>
              changeDraft((now) => ({ ...now, lines: now.lines.map((each) => (each.id === line.id ? { ...each, ...change } : each)) }))
            }
            onRemove={() => changeDraft((now) => ({ ...now, lines: now.lines.filter((each) => each.id !== line.id) }))}
          />
        ))}
      </div>
      {mayBe.map((donor) => (
        <button key={donor.id} type="button" className={styles.donor} onClick={() => changeDraft((now) => asSentBy(now, donor.id))}>
          <span className={styles.eyelet} aria-hidden="true" />
          <span>
            <b>From {donor.name}?</b>
            <Awaited known={known} zone={zone} donorId={donor.id} />
          </span>
        </button>
      ))}
      <button type="button" className="button-line" onClick={() => changeDraft(withAnotherLine)}>
        There was something else in it
      </button>
    </>
  )
}

export function ParcelNote({ draft }: { draft: Draft }) {
  return (
    <details>
      <summary>A note</summary>
      <TextareaField
        name="note"
        label="Anything the maker should know"
        optional
        rows={2}
        value={draft.note}
        onChange={(event) => changeDraft((now) => ({ ...now, note: event.target.value }))}
      />
    </details>
  )
}
