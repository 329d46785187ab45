'use client'

import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { NO_PICTURE, shrinkPhoto } from '#app/_ui/forms/shrink-photo.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { ChosenDonor } from './chosen-donor'
import { DonorPicker } from './donor-picker'
import { fromDonor, fromNobodyKnown, fromSomebodyNew, isAllHere, type Known } from './draft.rules'
import { KeptParcel, OnThePhone } from './kept-parcel'
import { MayWeName } from './may-we-name'
import { useOpensOffline } from './open-offline'
import styles from './parcel.module.css'
import { ParcelContent, ParcelNote } from './parcel-content'
import { changeBox, changeDraft, useIsKept } from './phone-box'
import { useParcel } from './use-parcel'

/** A photograph is made small and laid on the phone beside the draft that it belongs to. */
async function takePhoto(file: File): Promise<string | null> {
  const small = await shrinkPhoto(file)
  if (small === null) return NO_PICTURE
  changeBox((box) => ({ ...box, photos: { ...box.photos, [box.draft.key]: small } }))
  return null
}

/** The volunteer's page: camera, donor, counts, done. What is typed stays on the phone until the house has it. */
export function ParcelForm({ known, zone }: { known: Known; zone: string }) {
  const { box, pending, refusal, done, wasPickedUp, afresh, send, next } = useParcel(known)
  const isKept = useIsKept()
  useOpensOffline()
  if (!box) return <p>One moment…</p>
  const { draft } = box
  const chosen = known.donors.find((donor) => donor.id === draft.donorId)
  const hasDonor = chosen !== undefined || draft.newDonor !== null || draft.fromNobody
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
            <Notice title="Picked up where you left off">
              <button type="button" className="button-line" onClick={afresh}>
                Start afresh
              </button>
            </Notice>
          )}
          {/* The parcel is kept on the phone by itself, and the next one begins with nothing of it. */}
          <CommandForm run={send} pending={pending} refusal={refusal} label="A parcel" isTypedAnew>
            <PhotoField
              name="photoSha"
              label="The parcel, as it came"
              optional
              wide
              onPhone={{ taken: box.photos[draft.key] ?? null, take: takePhoto }}
            />
            {!hasDonor && (
              <DonorPicker
                known={known}
                zone={zone}
                onDonor={(donorId) => changeDraft((now) => fromDonor(now, donorId, known))}
                onSomebodyNew={(name) => changeDraft((now) => fromSomebodyNew(now, name))}
                onNobody={() => changeDraft(fromNobodyKnown)}
              />
            )}
            {hasDonor && (
              <>
                <ChosenDonor draft={draft} donor={chosen} known={known} zone={zone} />
                <ParcelContent draft={draft} known={known} zone={zone} />
                {chosen && <MayWeName donor={chosen} zone={zone} />}
                <ParcelNote draft={draft} />
                <div className={styles.send}>
                  <SubmitButton wide waiting="Sending it">
                    {isAllHere(draft, known) ? 'All there: log it' : 'Log it'}
                  </SubmitButton>
                </div>
              </>
            )}
          </CommandForm>
          <p className="small quiet">
            {isKept
              ? 'No signal? It is saved on this phone, photograph and all, and sent once you have one.'
              : 'This browser cannot save anything: leave the page open until the parcel is sent.'}
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
