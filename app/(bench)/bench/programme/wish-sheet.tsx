'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField } from '#app/_ui/forms/text-fields.tsx'
import { Money } from '#app/_ui/money.tsx'
import type { Instant } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { DayWishKind } from '#sale/planning/question.rules'
import type { PlanningView } from '#sale/planning/wish.contract'
import { civilParts } from '#sale/programme/civil-time.rules'
import { DropWish } from './drop-wish'
import { TimeFields } from './time-fields'

export interface WishSheetProps {
  planning: PlanningView
  opensAt: Instant
  look(): void
}

const KINDS: { value: DayWishKind; label: string }[] = [
  { value: 'guest', label: 'while a guest is there' },
  { value: 'not-before', label: 'not before a time' },
  { value: 'not-after', label: 'not after a time' },
  { value: 'at', label: 'at a time' },
  { value: 'last', label: 'last of all' },
  { value: 'not-first', label: 'not the first' },
]

/** What is wished for single lots: pins, which must be kept, and wishes with what keeping them may cost. */
export function WishSheet({ planning, opensAt, look }: WishSheetProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.planning.wish.mutate)
  const [kind, setKind] = useState<DayWishKind>('not-before')
  const [isPin, setPin] = useState(false)
  const { wishes, lots, guests, zone, currency } = planning
  const kinds = guests.length > 0 ? KINDS : KINDS.filter(({ value }) => value !== 'guest')
  const needsTime = kind === 'at' || kind === 'not-before' || kind === 'not-after'
  return (
    <section className="sheet stack" aria-labelledby="wishes">
      <h2 id="wishes">Wishes</h2>
      {wishes.length > 0 && (
        <ul className="stack">
          {wishes.map((wish) => (
            <li key={wish.id} className="row apart">
              <span>
                {wish.words}
                <span className="quiet">
                  {wish.isPin ? ' · must be kept' : ' · may cost up to '}
                  {!wish.isPin && <Money minor={wish.weightMinor} currency={currency} short />}
                </span>
                {wish.settled && (
                  <span className="small">
                    <br />
                    Lot {wish.lot} is announced for {showClock(wish.settled.at, zone)}, so no plan moves it: this{' '}
                    {wish.settled.isKept ? 'is kept' : 'cannot be kept'}.
                  </span>
                )}
              </span>
              <DropWish wishId={wish.id} words={wish.words} look={look} />
            </li>
          ))}
        </ul>
      )}
      {lots.length === 0 ? (
        <p className="quiet">Every lot has an announced time, so there is nothing left to wish for.</p>
      ) : (
        <details>
          <summary>Add a wish</summary>
          <CommandForm
            label="Add a wish"
            pending={pending}
            refusal={refusal}
            emptyWhenDone
            run={(form) =>
              run({
                lot: form.whole('lot'),
                kind,
                guest: kind === 'guest' ? form.text('guest') : '',
                on: needsTime ? form.text('on') : '',
                at: needsTime ? form.text('at') : '',
                which: needsTime ? (form.text('which') as '' | 'first' | 'second') : '',
                isPin,
                weight: isPin ? '' : form.text('weight'),
              })
            }
            onDone={() => {
              setPin(false)
              look()
              router.refresh()
            }}
          >
            <SelectField
              name="lot"
              label="Which lot?"
              options={lots.map(({ number, title }) => ({ value: String(number), label: `Lot ${number}: ${title}` }))}
            />
            <SelectField
              name="kind"
              label="What is wished?"
              options={kinds}
              value={kind}
              onChange={(event) => setKind(event.currentTarget.value as DayWishKind)}
            />
            {kind === 'guest' && (
              <SelectField name="guest" label="Which guest?" options={guests.map(({ id, title }) => ({ value: id, label: title }))} />
            )}
            {needsTime && (
              <TimeFields zone={zone} on={civilParts(opensAt, zone).on} at="" asksWhich={refusal?.fields.which !== undefined} />
            )}
            <CheckField
              key={wishes.length}
              name="isPin"
              label="It must be kept"
              hint="When all that must be kept cannot be, the planner says which stand in each other’s way."
              onCheck={setPin}
            />
            {!isPin && (
              <MoneyField
                name="weight"
                label="What may keeping it cost?"
                hint="Of the expected total. Beyond that it gives way."
                currency={currency}
              />
            )}
            <SubmitButton>Add the wish</SubmitButton>
          </CommandForm>
        </details>
      )}
    </section>
  )
}
