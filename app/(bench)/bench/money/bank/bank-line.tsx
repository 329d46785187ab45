'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import { showMoney } from '#kernel/money'
import type { BankLineView } from '#money/bank/bank.contract'
import type { Part, Suggestion } from '#money/bank/suggest.rules'
import { longDay } from '#money/invoices/words.rules'
import { useBookForm } from '../use-book-form'
import styles from './bank.module.css'
import { PayoutForm } from './payout-form'
import { type DeskFor, PlaceForm } from './place-form'

const STRENGTHS: Record<Suggestion['strength'], { tone: Tone; words: string }> = {
  sure: { tone: 'ok', words: 'Reference and amount match' },
  likely: { tone: 'copper', words: 'Likely' },
  weak: { tone: 'doubt', words: 'A weak hint' },
}

/** One line of the bank's with what it probably is. Nothing is booked before a person says so. */
export function BankLine({ line, desk }: { line: BankLineView; desk: DeskFor }) {
  const confirm = useBookForm(api.bank.confirm.mutate)
  const { suggestion } = line
  const about = [line.name, line.words, line.reference].filter(Boolean).join(' · ')
  return (
    <article className="sheet stack close" aria-label={`${showMoney(line.amountMinor, desk.currency)} on ${longDay(line.on)}`}>
      <div className={styles.line}>
        <b className={styles.amount}>{showMoney(line.amountMinor, desk.currency)}</b>
        <span>{longDay(line.on)}</span>
        <span className={styles.words}>{about || 'no reference or text'}</span>
      </div>
      {suggestion ? (
        <>
          <p>
            <Chip tone={STRENGTHS[suggestion.strength].tone}>{STRENGTHS[suggestion.strength].words}</Chip> {suggestion.why}
          </p>
          <ul className={styles.parts}>
            {suggestion.parts.map((part) => (
              <li key={JSON.stringify(part)}>
                {partWords(part)}: <b>{showMoney(Math.abs(part.amountMinor), desk.currency)}</b>
              </li>
            ))}
          </ul>
        </>
      ) : (
        <p>
          <Chip tone="doubt">No suggestion</Chip> It stays here until somebody allocates it.
        </p>
      )}
      {desk.mayWrite && (
        <>
          {suggestion && (
            <CommandForm
              label="What is suggested"
              pending={confirm.pending}
              refusal={confirm.refusal}
              run={() => confirm.run({ key: confirm.key, lineId: line.id })}
              onDone={confirm.onDone}
            >
              <div>
                <SubmitButton>Confirm it</SubmitButton>
              </div>
            </CommandForm>
          )}
          <div className="row">
            <details className={styles.own}>
              <summary>Choose where it goes</summary>
              <PlaceForm line={line} desk={desk} />
            </details>
            <SetAside lineId={line.id} />
          </div>
          <Payout line={line} desk={desk} />
        </>
      )}
    </article>
  )
}

/** Its form is there once it is asked for: most lines are no payout. */
function Payout(props: { line: BankLineView; desk: DeskFor }) {
  const [isAsked, setIsAsked] = useState(false)
  return (
    <details onToggle={(event) => event.currentTarget.open && setIsAsked(true)}>
      <summary>A card processor’s payout</summary>
      {isAsked && <PayoutForm {...props} />}
    </details>
  )
}

function partWords(part: Part): string {
  switch (part.to) {
    case 'lot':
      return `Payment of lot ${part.lot}`
    case 'unplaced':
      return 'Unallocated'
    case 'refund':
      return 'Refunded'
    case 'remittance':
      return 'Passed on to the cause'
    case 'entry':
      return 'An entry already in the books'
  }
}

function SetAside({ lineId }: { lineId: string }) {
  const { run, pending, refusal, onDone } = useBookForm(api.bank.setAside.mutate)
  return (
    <ConfirmButton
      run={(form) => run({ lineId, why: form.text('why') })}
      pending={pending}
      refusal={refusal}
      onDone={onDone}
      title="Is this nothing to do with the campaign?"
      undoes={<p>It leaves this list and is not booked. You can bring it back from the settled lines.</p>}
      fields={<TextField name="why" label="Why" />}
      confirm="Set it aside"
      keep="Leave it here"
    >
      Not ours…
    </ConfirmButton>
  )
}
