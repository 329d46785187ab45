'use client'

import { useRouter } from 'next/navigation'
import { useEffect, useRef, useState } from 'react'
import type { Refused } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { ParcelKept } from '#gifts/parcels/parcel.contract'
import { Awaited, DonorPicker } from './donor-picker'
import {
  asSentBy,
  type Draft,
  emptyDraft,
  fromDonor,
  fromNobodyKnown,
  fromSomebodyNew,
  isAllHere,
  isTouched,
  type Known,
  senderOf,
  toParcel,
  whoMayHaveSent,
  withAnotherLine,
} from './draft.rules'
import { KeptParcel, OnThePhone } from './kept-parcel'
import { LineRow } from './line-row'
import { MayWeName } from './may-we-name'
import { NewDonor } from './new-donor'
import { useOpensOffline } from './open-offline'
import styles from './parcel.module.css'
import { changeBox, newKey, useIsKept, usePhoneBox, type WaitingParcel } from './phone-box'
import { sendParcel, shrinkPhoto } from './send-parcel'

type Done = { is: 'kept'; kept: ParcelKept } | { is: 'waits'; key: string; from: string }

const edit = (change: (draft: Draft) => Draft) => changeBox((box) => ({ ...box, draft: change(box.draft) }))

const NO_PICTURE = 'This is not a picture that can be read. Take a photograph, or choose a JPEG, PNG or WebP.'

/** A photograph is made small and laid on the phone beside the draft that it belongs to. */
async function takePhoto(file: File): Promise<string | null> {
  const small = await shrinkPhoto(file)
  if (small === null) return NO_PICTURE
  changeBox((box) => ({ ...box, photos: { ...box.photos, [box.draft.key]: small } }))
  return null
}

/** The volunteer's page: camera, donor, counts, done. What is typed stays on the phone until the house has it. */
export function ParcelForm({ known, zone }: { known: Known; zone: string }) {
  const router = useRouter()
  const box = usePhoneBox()
  const [pending, setPending] = useState(false)
  const [refusal, setRefusal] = useState<Refused | null>(null)
  const [done, setDone] = useState<Done | null>(null)
  const [wasPickedUp, setPickedUp] = useState(false)
  const isFirst = useRef(true)
  const isKept = useIsKept()
  useOpensOffline()
  useEffect(() => {
    if (!box || !isFirst.current) return
    isFirst.current = false
    setPickedUp(isTouched(box.draft, box.photos[box.draft.key] !== undefined))
  }, [box])
  if (!box) return <p>One moment…</p>
  const { draft } = box
  const photo = box.photos[draft.key] ?? null

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
    const ready = toParcel(counted, known)
    const sent = await sendParcel(ready, photo ?? undefined)
    setPending(false)
    if (sent.is === 'refused') return setRefusal(sent.refusal)
    if (sent.is === 'kept') {
      setDone({ is: 'kept', kept: sent.kept })
      router.refresh()
      afresh()
      return
    }
    // What may have reached the house already waits as it was sent: the same key never goes out with other content.
    const from = senderOf(counted, known)
    const waits: WaitingParcel = { draft: counted, ...ready, from, since: Date.now(), refused: null }
    setDone({ is: 'waits', key: counted.key, from })
    setPickedUp(false)
    changeBox((now) => ({ ...now, draft: emptyDraft(newKey()), waiting: [...now.waiting, waits] }))
  }
  const next = () => {
    setDone(null)
    window.scrollTo(0, 0)
  }

  const chosen = known.donors.find((donor) => donor.id === draft.donorId)
  const hasDonor = chosen !== undefined || draft.newDonor !== null || draft.fromNobody
  const mayBe = draft.fromNobody ? whoMayHaveSent(draft, known) : []
  return (
    <div className="stack">
      {done?.is === 'kept' ? (
        <KeptParcel kept={done.kept} onNext={next} />
      ) : done && box.waiting.some((each) => each.draft.key === done.key) ? (
        <OnThePhone from={done.from} onNext={next} />
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
            <PhotoField name="photoSha" label="The parcel, as it came" optional wide onPhone={{ taken: photo, take: takePhoto }} />
            {!hasDonor && (
              <DonorPicker
                known={known}
                zone={zone}
                onDonor={(donorId) => edit((now) => fromDonor(now, donorId, known))}
                onSomebodyNew={(name) => edit((now) => fromSomebodyNew(now, name))}
                onNobody={() => edit(fromNobodyKnown)}
              />
            )}
            {hasDonor && (
              <>
                <div className={styles.chosen}>
                  <span className={`${styles.eyelet} ${styles.full}`} aria-hidden="true" />
                  <span>
                    <b>{draft.fromNobody ? 'Nobody knows' : (chosen?.name ?? (draft.newDonor?.name || 'Somebody new'))}</b>
                    {chosen ? (
                      <Awaited known={known} zone={zone} donorId={chosen.id} />
                    ) : (
                      <span className={styles.awaited}>
                        {draft.fromNobody ? 'claimed later, from the list of parcels' : 'somebody new'}
                      </span>
                    )}
                  </span>
                  <button
                    type="button"
                    className={styles.change}
                    onClick={() => edit((now) => ({ ...now, donorId: null, newDonor: null, fromNobody: false, lines: [] }))}
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
                {mayBe.map((donor) => (
                  <button key={donor.id} type="button" className={styles.donor} onClick={() => edit((now) => asSentBy(now, donor.id))}>
                    <span className={styles.eyelet} aria-hidden="true" />
                    <span>
                      <b>From {donor.name}?</b>
                      <Awaited known={known} zone={zone} donorId={donor.id} />
                    </span>
                  </button>
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
          <p className="small quiet">
            {isKept
              ? 'No signal? It is kept on this phone, photograph and all, and sent later, once.'
              : 'This browser keeps nothing: leave the page open until the parcel is sent.'}
          </p>
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
