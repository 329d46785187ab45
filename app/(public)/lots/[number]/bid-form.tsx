'use client'

import { useRouter } from 'next/navigation'
import { type Dispatch, type SetStateAction, useEffect, useMemo, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { makeKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { FieldGroup } from '#app/_ui/forms/field.tsx'
import { SlipAnswers } from '#app/_ui/forms/slip-answers.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import { useSlips } from '#app/_ui/forms/use-slips.ts'
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
import { type Draft, draftAtOpening, firstChoice, NOTHING_CHOSEN, OTHER, takenBack } from './draft.rules'
import { keepAmount, keptAmount } from './kept-amount'
import styles from './lot.module.css'
import { StepChoice } from './step-choice'
import { type Taken, TakenNotice } from './taken-notice'
import { useSettled } from './use-settled'
import { checkReceipt } from './verify-receipt'

const NOTHING_SAID = 'Choose the most you would pay.'

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
  onDraft: setDraft,
  highMinor,
  openings,
}: BidFormProps) {
  const router = useRouter()
  const { currency } = frame
  const [key, setKey] = useState(makeKey)
  const [isMissing, setMissing] = useState(false)
  const slips = useSlips()
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
  const ceiling = side?.ceilingMinor ?? MOST_MINOR
  const isSendable = typeof amount === 'number' && amount >= least && amount <= ceiling
  const seen = {
    currency,
    standingMinor: frame.standingMinor,
    leastNextMinor: frame.leastNextMinor ?? 0,
    reserve: frame.reserve,
    own: own === null ? null : { maximumMinor: own, leastRaiseMinor: least },
    ceilingMinor: ceiling,
  }
  const show = (minor: number) => showMoney(minor, currency, { short: true })

  // The same one at every tick of the clock: a new one takes the focus.
  const asked = choice === OTHER ? 'other' : 'maximum'
  const refused = useMemo(
    () => (isMissing ? { words: NOTHING_SAID, fields: { maximum: NOTHING_SAID } } : (slips.asked ?? refusal)),
    [isMissing, slips.asked, refusal],
  )
  const change = (changed: Draft) => {
    setDraft(changed)
    keepAmount(frame.number, changed)
    setKey(makeKey())
    setMissing(false)
    slips.forget()
    setTaken(null)
  }
  const send = async () => {
    setMissing(choice === null)
    if (choice === null) return undefined
    const question = isSendable ? askSlip({ ...frame, highMinor }, amount) : null
    if (!slips.mayGo(question === null ? {} : { [asked]: question })) return undefined
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
    setDraft(NOTHING_CHOSEN)
    keepAmount(frame.number, NOTHING_CHOSEN)
    slips.forget()
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
  const first = firstChoice(ladder, least)
  // biome-ignore lint/correctness/useExhaustiveDependencies: chosen when the form appears, and not at every new price
  useEffect(() => {
    setDraft((known) => draftAtOpening(keptAmount(frame.number) ?? known, least, first))
    setMissing(false)
    slips.forget()
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
              {() => (
                <StepChoice steps={steps} least={least} choice={choice} choose={(value) => change({ choice: value, typed })} show={show} />
              )}
            </FieldGroup>
            {choice === OTHER && (
              <MoneyField
                name="other"
                label="Another amount"
                currency={currency}
                value={typed}
                onChange={(event) => change({ choice: OTHER, typed: event.currentTarget.value })}
              />
            )}
            <p className="small" aria-live="polite">
              {isOutOfDate ? WHAT_YOU_ALLOW : typeof amount === 'number' ? previewBid(seen, amount) : amount}
              {!isOutOfDate && typeof amount === 'number' && side !== null && side.postageMinor !== null && isSendable && (
                <> {sayPostage(own === null ? least : (frame.standingMinor ?? least), amount, side.postageMinor, countryName, show)}</>
              )}
            </p>
            <div className={styles.send}>
              {slips.asked !== null && isSendable ? (
                <SlipAnswers slips={slips} yes={`Yes, bid up to ${showMoney(amount, currency)}`} />
              ) : (
                <SubmitButton wide waiting="Sending your bid">
                  {isSendable ? `Bid up to ${showMoney(amount, currency)}` : choice === null ? 'Choose another amount' : 'Bid'}
                </SubmitButton>
              )}
            </div>
          </>
        )}
      </CommandForm>
      {isSigning && (
        <section className="stack close" aria-labelledby="sign-in-here">
          <h3 id="sign-in-here">Sign in to send this bid</h3>
          <p className="small">
            With a paddle your bid is sent once you are signed in. If you are new here, you take one next, and your bid then waits for one
            more tap.
          </p>
          <SignInForm onSignedIn={signedIn} />
        </section>
      )}
    </div>
  )
}
