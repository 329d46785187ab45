'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { Suspense, useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { SignInForm } from '#app/(public)/sign-in/sign-in-form.tsx'
import { showMoney } from '#kernel/money'
import type { MyPrice, PriceView } from '#money/fixed-price/offer-price.contract'
import type { LotFrame } from '#sale/bidding/bidding.contract'

interface FixedPricePartProps {
  frame: LotFrame
  price: PriceView | null
  /** What it comes to for the reader; null for who is not signed in. */
  mine: MyPrice | null
  isSignedIn: boolean
}

/** A machine that nobody has: what it costs to be the first who says yes, and what a yes means. */
export function FixedPricePart({ frame, price, mine, isSignedIn }: FixedPricePartProps) {
  const router = useRouter()
  const [isAsked, setAsked] = useState(false)
  const [wasToBeHad] = useState(price !== null)
  // Another price, a yes or its end is on the frame at once; what it costs the reader comes with the page.
  const standing = frame.fixedPrice?.is === 'to be had' ? frame.fixedPrice.priceMinor : null
  const isNews = standing !== (price?.priceMinor ?? null)
  useEffect(() => {
    if (isNews) router.refresh()
  }, [isNews, router])
  const here = `/lots/${frame.number}`
  if (mine?.isMine)
    return (
      <Notice tone="ok" title="It is yours" live="status">
        How to pay is in the email.{' '}
        <Link prefetch={false} href={`/me/won/${frame.number}`}>
          Pay, and say where to send it
        </Link>
      </Notice>
    )
  if (price === null)
    return wasToBeHad ? (
      <Notice tone="info" title={frame.fixedPrice?.is === 'sold' ? 'Somebody else was first' : 'It cannot be had any more'} live="status">
        You owe nothing, and nothing was charged.
      </Notice>
    ) : null
  // It has just gone; to whom, the page will say.
  if (standing === null) return null
  const show = (minor: number) => showMoney(minor, price.currency)
  return (
    <section className="sheet act stack" aria-labelledby="fixed-price">
      <h2 id="fixed-price">Yours for {show(price.priceMinor)}</h2>
      <p className="small">
        Not a bid: whoever says yes first has it, and nobody can be outbid. {mine === null || mine.lacksPaddle ? 'Postage is added.' : ''}
      </p>
      {mine === null || !isSignedIn ? (
        isAsked ? (
          <Suspense>
            <SignInForm onSignedIn={() => router.refresh()} />
          </Suspense>
        ) : (
          <div>
            <button type="button" className="button needs-script" onClick={() => setAsked(true)}>
              Sign in to take it
            </button>
          </div>
        )
      ) : mine.lacksPaddle ? (
        <div className="stack close">
          <p>{mine.barred}</p>
          <Link prefetch={false} className="button" href={`/paddle?next=${encodeURIComponent(here)}`}>
            Take your paddle
          </Link>
        </div>
      ) : mine.barred ? (
        <p>{mine.barred}</p>
      ) : (
        <TakeIt price={price} mine={mine} />
      )}
    </section>
  )
}

function TakeIt({ price, mine }: { price: PriceView; mine: MyPrice }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.fixedPrice.take.mutate)
  const { lot, priceMinor, currency, terms } = price
  const show = (minor: number) => showMoney(minor, currency)
  const together = show(priceMinor + mine.postageMinor)
  const share = terms.shareBp === 10_000 ? 'the whole price goes' : `${terms.shareBp / 100} % of the price goes`
  return (
    <div className="stack close">
      <p>
        With {show(mine.postageMinor)} postage to {mine.country}: <b>{together}</b> in all.
      </p>
      <ConfirmButton
        pending={pending}
        refusal={refusal}
        run={async () => {
          const bought = await run({ key, lot, priceMinor, seen: mine.seen })
          // What was refused may have been another offer by then: it is shown as it is now.
          if (bought === undefined) router.refresh()
          return bought
        }}
        onDone={() => {
          renew()
          router.refresh()
        }}
        kind="first"
        title={`Buy lot ${lot} for ${together}?`}
        undoes={
          <>
            <p>
              Yes binds you: it makes a contract with {terms.seller}. You pay {show(priceMinor)} and {show(mine.postageMinor)} postage to{' '}
              {mine.country}, {together} in all, within {terms.dueDays} days; {share} to {terms.cause}. The invoice follows by email.
            </p>
            <p className="small">
              If you need to cancel: {terms.cancelWords} A sale at a fixed price is no auction, and your local rules may give you other
              rights.
            </p>
          </>
        }
        confirm="Yes, I’ll take it"
        keep="Not yet"
      >
        I’ll take it…
      </ConfirmButton>
    </div>
  )
}
