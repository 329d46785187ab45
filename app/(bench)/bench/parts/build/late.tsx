'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { BuildPage } from '#bench/buildable/build.service'
import { listWords } from '#stock/donors/gift.rules'

/** What a week's delay of each parcel costs, and when parcels are expected. */
export function Late({ delays, undated, ready, isMaker }: Pick<BuildPage, 'delays' | 'undated' | 'ready'> & { isMaker: boolean }) {
  return (
    <section className="sheet stack" aria-labelledby="late">
      <h2 id="late">If a parcel is a week late</h2>
      <p>
        Lots must be ready by <b>{ready.readyOn}</b>. A unit takes {ready.benchDays === 1 ? '1 day' : `${ready.benchDays} days`} at the
        bench, so its last part must be there on <b>{ready.lastUsefulDay}</b>.
      </p>
      {delays.length > 0 && (
        <table className="cards">
          <caption className="visually-hidden">What a delay costs</caption>
          <thead>
            <tr>
              <th scope="col">Parcel</th>
              <th scope="col">Expected</th>
              <th scope="col">A week late</th>
              <th scope="col">Misses the date</th>
            </tr>
          </thead>
          <tbody>
            {delays.map(({ parcel, donorName, lines, expectedOn, lateOn, misses, fewer }) => (
              <tr key={parcel}>
                <th scope="row">
                  {donorName}
                  <span className="small quiet"> {lines.map(({ what, quantity }) => `${quantity} × ${what}`).join('; ')}</span>
                </th>
                <td data-label="Expected">{expectedOn}</td>
                <td data-label="A week late">{lateOn}</td>
                <td data-label="Misses the date">
                  {expectedOn > ready.lastUsefulDay ? (
                    'already comes too late'
                  ) : misses.length === 0 ? (
                    'no unit'
                  ) : (
                    <>
                      <b>{listWords(misses, 'and')}</b>
                      {fewer < misses.length && `; with a new plan, ${misses.length - fewer} could be built instead`}
                    </>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {delays.length === 0 && undated.length === 0 && <p className="quiet">Nothing is promised or on its way.</p>}
      {undated.length > 0 && (
        <>
          <h3>When will these come?</h3>
          <p className="small quiet">Promises without a date are not counted.</p>
          {undated.map((line) => (
            <ExpectedForm key={line.giftId} line={line} />
          ))}
        </>
      )}
      {isMaker && <ReadyForm ready={ready} />}
    </section>
  )
}

function ExpectedForm({ line: { giftId, donorName, quantity, what, isOnItsWay } }: { line: BuildPage['undated'][number] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.buildable.expectGift.mutate)
  return (
    <CommandForm
      label={`Day of ${quantity} × ${what}`}
      run={(form) => run({ giftId, expectedOn: form.text('expectedOn') })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
    >
      <TextField
        name="expectedOn"
        type="date"
        width="short"
        label={`${donorName}: ${quantity} × ${what}, ${isOnItsWay ? 'on its way' : 'promised'}`}
      />
      <SubmitButton kind="line">Set the expected day</SubmitButton>
    </CommandForm>
  )
}

function ReadyForm({ ready }: { ready: BuildPage['ready'] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.buildable.setReadyDay.mutate)
  return (
    <details>
      <summary>Change the day</summary>
      <CommandForm
        label="Ready day"
        run={(form) => run({ readyOn: form.text('readyOn'), benchDays: form.text('benchDays') })}
        pending={pending}
        refusal={refusal}
        onDone={() => router.refresh()}
      >
        <TextField
          name="readyOn"
          type="date"
          width="short"
          label="Lots must be ready by"
          hint="Empty: the day on which the stream opens."
          optional
          defaultValue={ready.readyOn}
        />
        <TextField
          name="benchDays"
          label="Days at the bench"
          hint="From the last part to the certificate, including the soak."
          inputMode="numeric"
          width="code"
          defaultValue={String(ready.benchDays)}
        />
        <SubmitButton kind="line">Save</SubmitButton>
      </CommandForm>
    </details>
  )
}
