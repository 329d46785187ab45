'use client'

import { useRouter } from 'next/navigation'
import { useEffect, useRef, useState } from 'react'
import type { ParcelKept } from '../../../../../server/parcels/parcel.contract'
import type { Refused } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import type { FormValues } from '../../../../_ui/forms/form-values'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextareaField } from '../../../../_ui/forms/text-fields'
import { Notice } from '../../../../_ui/notice'
import { Awaited, DonorPicker } from './donor-picker'
import { type Draft, emptyDraft, fromDonor, fromSomebodyNew, isAllHere, isTouched, type Known, withAnotherLine } from './draft.rules'
import { KeptParcel } from './kept-parcel'
import { LineRow } from './line-row'
import { MayWeName } from './may-we-name'
import { NewDonor } from './new-donor'
import styles from './parcel.module.css'
import { changeBox, newKey, usePhoneBox } from './phone-box'
import { PhotoFirst } from './photo-first'
import { sendParcel } from './send-parcel'
import { WaitingParcels } from './waiting-parcels'

const edit = (change: (draft: Draft) => Draft) => changeBox((box) => ({ ...box, draft: change(box.draft) }))

/** The volunteer's page: camera, donor, counts, done. What is typed stays on the phone until the house has it. */
export function ParcelForm({ known, zone }: { known: Known; zone: string }) {
  const router = useRouter()
  const box = usePhoneBox()
  const [pending, setPending] = useState(false)
  const [refusal, setRefusal] = useState<Refused | null>(null)
  const [kept, setKept] = useState<ParcelKept | null>(null)
  const [wasPickedUp, setPickedUp] = useState(false)
  const isFirst = useRef(true)
  useEffect(() => {
    if (!box || !isFirst.current) return
    isFirst.current = false
    setPickedUp(isTouched(box.draft))
  }, [box])
  if (!box) return <p>One moment…</p>
  const { draft } = box

  const afresh = () => {
    edit(() => emptyDraft(newKey()))
    setPickedUp(false)
    setRefusal(null)
  }
  const send = async (form: FormValues) => {
    setPending(true)
    setRefusal(null)
    // The counts as they stand in their boxes: full-width digits and slips of the pen are for the house to read or refuse.
    const counted = { ...draft, lines: draft.lines.map((line, place) => ({ ...line, quantity: form.text(`lines.${place}.quantity`) })) }
    const sent = await sendParcel(counted, known)
    setPending(false)
    if (sent.is === 'refused') return setRefusal(sent.refusal)
    if (sent.is === 'kept') {
      setKept(sent.kept)
      router.refresh()
    } else changeBox(({ waiting }) => ({ draft, waiting: [...waiting, counted] }))
    afresh()
  }
  const next = () => {
    setKept(null)
    window.scrollTo(0, 0)
  }

  const chosen = known.donors.find((donor) => donor.id === draft.donorId)
  const hasDonor = chosen !== undefined || draft.newDonor !== null
  return (
    <div className="stack">
      <WaitingParcels waiting={box.waiting} known={known} />
      {kept ? (
        <KeptParcel kept={kept} onNext={next} />
      ) : (
        <>
          <h1>A parcel has come</h1>
          {wasPickedUp && (
            <Notice title="Taken up where you left off">
              <button type="button" className="button-line" onClick={afresh}>
                Start afresh
              </button>
            </Notice>
          )}
          <CommandForm run={send} pending={pending} refusal={refusal} label="A parcel">
            <PhotoFirst photo={draft.photo} onPhoto={(photo) => edit((now) => ({ ...now, photo, photoSha: null }))} />
            {!hasDonor && (
              <DonorPicker
                known={known}
                zone={zone}
                onDonor={(donorId) => edit((now) => fromDonor(now, donorId, known))}
                onSomebodyNew={(name) => edit((now) => fromSomebodyNew(now, name))}
              />
            )}
            {hasDonor && (
              <>
                <div className={styles.chosen}>
                  <span className={`${styles.eyelet} ${styles.full}`} aria-hidden="true" />
                  <span>
                    <b>{chosen?.name ?? (draft.newDonor?.name || 'Somebody new')}</b>
                    {chosen ? (
                      <Awaited known={known} zone={zone} donorId={chosen.id} />
                    ) : (
                      <span className={styles.awaited}>somebody new</span>
                    )}
                  </span>
                  <button
                    type="button"
                    className={styles.change}
                    onClick={() => edit((now) => ({ ...now, donorId: null, newDonor: null, lines: [] }))}
                  >
                    Change<span className="visually-hidden"> the donor</span>
                  </button>
                </div>
                {draft.newDonor && (
                  <NewDonor
                    donor={draft.newDonor}
                    onChange={(change) => edit((now) => (now.newDonor ? { ...now, newDonor: { ...now.newDonor, ...change } } : now))}
                  />
                )}
                {draft.lines.map((line, place) => (
                  <LineRow
                    key={line.id}
                    line={line}
                    place={place}
                    known={known}
                    onChange={(change) =>
                      edit((now) => ({ ...now, lines: now.lines.map((each) => (each.id === line.id ? { ...each, ...change } : each)) }))
                    }
                    onRemove={() => edit((now) => ({ ...now, lines: now.lines.filter((each) => each.id !== line.id) }))}
                  />
                ))}
                <button type="button" className="button-line" onClick={() => edit(withAnotherLine)}>
                  Something else was in it
                </button>
                {chosen && <MayWeName donor={chosen} zone={zone} />}
                <details>
                  <summary>A note</summary>
                  <TextareaField
                    name="note"
                    label="Anything the maker should know"
                    optional
                    rows={2}
                    value={draft.note}
                    onChange={(event) => edit((now) => ({ ...now, note: event.target.value }))}
                  />
                </details>
              </>
            )}
            {hasDonor && (
              <SubmitButton wide waiting="Sending it">
                {isAllHere(draft, known) ? 'All here, log it' : 'Log it'}
              </SubmitButton>
            )}
          </CommandForm>
          <p className="small quiet">No signal? It is kept on this phone and sent later, once.</p>
          <datalist id="catalogue">
            {known.parts.map((part) => (
              <option key={part.id} value={part.words} />
            ))}
          </datalist>
        </>
      )}
    </div>
  )
}
