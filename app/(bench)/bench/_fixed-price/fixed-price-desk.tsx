'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { plainMoney, showMoney } from '#kernel/money'
import type { PriceDesk } from '#money/fixed-price/offer-price.contract'
import { longDay } from '#money/invoices/words.rules'

/** A lot that nobody has: offer it to whoever says yes first, change its price, or take it back. */
export function FixedPriceDesk({ desk, isBrief = false }: { desk: PriceDesk; isBrief?: boolean }) {
  const { lot, currency, standing, whyNot } = desk
  return (
    <div className="stack close">
      {standing && (
        <p className={isBrief ? 'small' : undefined}>
          Can be had for <b>{showMoney(standing.priceMinor, currency)}</b>
          {standing.lastDay === null ? ', until you take it back' : `, until the end of ${longDay(standing.lastDay)}`}.
        </p>
      )}
      {whyNot !== null && !isBrief && <p className="small quiet">{whyNot}</p>}
      {(whyNot === null || standing) && (
        <div className="row">
          {whyNot === null && <OfferPrice desk={desk} />}
          {standing && <TakeBack lot={lot} />}
        </div>
      )}
    </div>
  )
}

function OfferPrice({ desk: { lot, title, currency, standing, cancelWords } }: { desk: PriceDesk }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.fixedPrice.offer.mutate)
  return (
    <ConfirmButton
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, lot, amount: form.text('amount'), lastDay: form.text('lastDay'), cancelWords: form.text('cancelWords') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
      kind="first"
      title={standing ? `Change the fixed price of lot ${lot}` : `Offer lot ${lot} at a fixed price`}
      undoes={
        <>
          <p>
            {title} can then be had by whoever says yes first. It is told on its page and among the lots at once; until somebody says yes
            you can change the price or take it back. What happened at its closing stays as it is.
          </p>
          <p className="small">
            A sale at a fixed price is no auction: what a buyer may cancel or send back, and what they must be told first, may differ by
            country and by who sells. Ask somebody who knows your local rules.
          </p>
        </>
      }
      fields={
        <>
          <MoneyField
            name="amount"
            label="Price"
            currency={currency}
            defaultValue={standing ? plainMoney(standing.priceMinor, currency) : ''}
          />
          <TextField
            name="lastDay"
            label="Last day"
            hint="Leave it empty to let it stand until you take it back."
            optional
            type="date"
            width="short"
            defaultValue={standing?.lastDay ?? ''}
          />
          <TextareaField name="cancelWords" label="How a buyer can cancel" rows={3} defaultValue={cancelWords} />
        </>
      }
      confirm={standing ? 'Save' : 'Offer it'}
      keep={standing ? 'Leave it as it is' : 'Not yet'}
    >
      {standing ? 'Change the price…' : 'Offer at a fixed price…'}
    </ConfirmButton>
  )
}

function TakeBack({ lot }: { lot: number }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.fixedPrice.takeBack.mutate)
  return (
    <CommandForm
      label={`The fixed price of lot ${lot}`}
      pending={pending}
      refusal={refusal}
      run={async () => (await run({ key, lot })) ?? null}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <SubmitButton kind="line">Take it back</SubmitButton>
    </CommandForm>
  )
}
