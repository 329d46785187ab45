'use client'

import { useRouter } from 'next/navigation'
import { type Dispatch, type SetStateAction, useEffect, useMemo, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { makeKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { FieldGroup } from '#app/_ui/forms/field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import { SignInForm } from '#app/(public)/sign-in/sign-in-form.tsx'
import { MOST_MINOR, plainMoney, showMoney } from '#kernel/money'
import type { Role } from '#kernel/role'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import { previewBid } from '#sale/bidding/preview.rules'
import type { BidAnswer } from '#sale/bids/bids.contract'
import { type Ladder, stepsFrom } from '#sale/price/ladder.rules'
import { leastRaise } from '#sale/price/price.rules'
import { askSlip } from '#sale/price/slip.rules'
import { readAmount, sayPostage } from './amount.rules'
import { type Draft, draftAtOpening, NOTHING_CHOSEN, OTHER, takenBack } from './draft.rules'
import { keepAmount, takeAmount } from './kept-amount'
import styles from './lot.module.css'
import { StepChoice } from './step-choice'
import { type Taken, TakenNotice } from './taken-notice'
import { useSettled } from './use-settled'
import { checkReceipt } from './verify-receipt'

/** Stands while the house is asked for a maximum that was raised on another page. */
const WHAT_YOU_ALLOW = 'Checking what your maximum is now.'

interface BidFormProps {
  frame: LotFrame
  ladder: Ladder
  /** Null for who is not signed in: they choose an amount first, and sign in with it. */
  side: MySide | null
  alias: string | null
  countryName: string
  onAlias: (alias: string) => void
  /** A leader's form shows what they allow, so it is folded away until asked for. */
  isFolded: boolean
  onTaken: () => void
  /** The house refused a bid: what is known of the reader may be out of date. */
  onRefused: () => void
  /** Kept outside, so that a clock that is held and goes on loses nothing of it. */
  draft: Draft
  onDraft: Dispatch<SetStateAction<Draft>>
  /** The estimate published before bidding; null where there is none. */
  highMinor: number | null
  /** Changes when the form was opened anew. */
  openings: number
}

/** "The most you would pay": a step of the ladder or an amount of one's own, what it would do, and the button that does it. */
export function BidForm({
  frame,
  ladder,
  side,
  alias,
  countryName,
  onAlias,
  isFolded,
  onTaken,
  onRefused,
  draft,
  onDraft,
  highMinor,
  openings,
}: BidFormProps) {
  const router = useRouter()
  const { currency } = frame
  const [key, setKey] = useState(makeKey)
  const [question, setQuestion] = useState<string | null>(null)
  const [taken, setTaken] = useState<Taken | null>(null)
  const [isSigning, setSigning] = useState(false)
  const [goesOn, setGoesOn] = useState(false)
  const whole = useRef<HTMLDivElement>(null)
  const { run, pending, refusal } = useCommand(api.bidding.place.mutate)
  const leads = alias !== null && frame.leaderAlias === alias
  const own = leads ? (side?.maximumMinor ?? null) : null
  const least = own === null ? (frame.leastNextMinor ?? 0) : leastRaise({ ladder }, own)
  const isOutOfDate = leads && side !== null && own === null
  const steps = stepsFrom(ladder, useSettled(least), 6).filter((_, index) => [0, 2, 5].includes(index))
  const { choice, typed } = pending ? draft : takenBack(draft, least)
  const amount = choice === null ? null : choice === OTHER ? readAmount(typed, currency) : Number(choice)
  const isSendable = typeof amount === 'number' && amount >= least
  const seen = {
    currency,
    standingMinor: frame.standingMinor,
    leastNextMinor: frame.leastNextMinor ?? 0,
    reserve: frame.reserve,
    own: own === null ? null : { maximumMinor: own, leastRaiseMinor: least },
    ceilingMinor: side?.ceilingMinor ?? MOST_MINOR,
  }
  const show = (minor: number) => showMoney(minor, currency, { short: true })

  // The same one at every tick of the clock: a new one takes the focus.
  const asked = choice === OTHER ? 'other' : 'maximum'
  const refused = useMemo(
    () => (question === null ? refusal : { words: question, fields: { [asked]: question } }),
    [question, refusal, asked],
  )
  const choose = (value: string) => {
    onDraft({ choice: value, typed })
    setKey(makeKey())
    setQuestion(null)
    setTaken(null)
  }
  const send = async () => {
    if (choice === null) {
      setQuestion('Choose the most you would pay.')
      return undefined
    }
    const slip = typeof amount === 'number' && question === null ? askSlip({ ...frame, highMinor }, amount) : null
    setQuestion(slip)
    if (slip !== null) return undefined
    if (side === null) {
      setSigning(true)
      return undefined
    }
    // What was read and shown is sent, never another reading of what was typed; the house says what is wrong with the rest.
    const maximum = typeof amount === 'number' ? plainMoney(amount, currency) : typed
    return run({ lot: frame.number, key, maximum })
  }
  const done = async (answer: BidAnswer) => {
    onAlias(answer.alias)
    setKey(makeKey())
    onDraft(NOTHING_CHOSEN)
    onTaken()
    const checked = await checkReceipt(answer)
    setTaken({ answer, checked })
    router.refresh()
    if (checked.fault !== null) return
    const { keepAndWatch } = await import('#app/_trust/receipt-box.ts')
    const fault = await keepAndWatch(answer.receipt)
    if (fault !== null) setTaken({ answer, checked: { ...checked, fault } })
  }
  // What the form opens with stands there when somebody looks, and does not change under their finger when the price does.
  const first = String(stepsFrom(ladder, least, 1)[0] ?? OTHER)
  // biome-ignore lint/correctness/useExhaustiveDependencies: chosen when the form appears, and not at every new price
  useEffect(() => {
    const kept = takeAmount(frame.number)
    onDraft((known) => kept ?? draftAtOpening(known, least, first))
    setQuestion(null)
  }, [isFolded, openings, taken])
  useEffect(() => {
    if (!refusal || refusal.unreached) return
    if (refusal.code === 'not-signed-in') setSigning(true)
    onRefused()
  }, [refusal, onRefused])
  // Once the page knows who is here, the bid that was sent goes on.
  useEffect(() => {
    if (!goesOn || side === null) return
    setGoesOn(false)
    setSigning(false)
    whole.current?.querySelector('form')?.requestSubmit()
  }, [goesOn, side])
  useEffect(() => {
    if (isSigning) whole.current?.querySelector<HTMLInputElement>('input[type="email"]')?.focus()
  }, [isSigning])
  const signedIn = ({ role, hasPaddle }: { role: Role; hasPaddle: boolean }) => {
    if (role === 'bidder' && !hasPaddle) {
      keepAmount(frame.number, { choice: choice ?? first, typed })
      window.location.assign(`/paddle?next=${encodeURIComponent(`/lots/${frame.number}#bid`)}`)
      return
    }
    setGoesOn(true)
    router.refresh()
  }
  return (
    <div ref={whole} className="stack">
      <CommandForm
        run={send}
        pending={pending}
        refusal={refused}
        // Nothing was sent where somebody has to sign in first.
        onDone={(answer?: BidAnswer) => void (answer && done(answer))}
        inSight={['maximum', 'other']}
        label="Bid"
      >
        {taken && <TakenNotice {...taken} frame={frame} />}
        {!isFolded && (
          <>
            <FieldGroup
              name="maximum"
              label="The most you would pay"
              hint={own === null ? `From ${show(least)}. You pay one step over the next bidder.` : 'You lead; it can only be raised.'}
            >
              {() => <StepChoice steps={steps} least={least} choice={choice} choose={choose} show={show} />}
            </FieldGroup>
            {choice === OTHER && (
              <MoneyField
                name="other"
                label="Another amount"
                currency={currency}
                value={typed}
                onChange={(event) => {
                  onDraft({ choice: OTHER, typed: event.currentTarget.value })
                  setQuestion(null)
                  setKey(makeKey())
                }}
              />
            )}
            <p className="small" aria-live="polite">
              {isOutOfDate ? WHAT_YOU_ALLOW : typeof amount === 'number' ? previewBid(seen, amount) : amount}
              {!isOutOfDate && typeof amount === 'number' && side !== null && side.postageMinor !== null && isSendable && (
                <> {sayPostage(own === null ? least : (frame.standingMinor ?? least), amount, side.postageMinor, countryName, show)}</>
              )}
            </p>
            <div className={styles.send}>
              <SubmitButton wide waiting="Sending your bid">
                {isSendable
                  ? `${question === null ? 'Bid' : 'Yes, bid'} up to ${showMoney(amount, currency)}`
                  : choice === null
                    ? 'Choose another amount'
                    : 'Bid'}
              </SubmitButton>
            </div>
          </>
        )}
      </CommandForm>
      {isSigning && (
        <section className="stack close" aria-labelledby="sign-in-here">
          <h3 id="sign-in-here">Sign in, and your bid goes on</h3>
          <SignInForm onSignedIn={signedIn} />
        </section>
      )}
    </div>
  )
}
