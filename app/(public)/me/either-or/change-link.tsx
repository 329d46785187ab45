'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SlipAnswers } from '#app/_ui/forms/slip-answers.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import { useSlips } from '#app/_ui/forms/use-slips.ts'
import { readAmount } from '#app/(public)/lots/[number]/amount.rules.ts'
import { plainMoney } from '#kernel/money'
import type { EitherOrAnswer, MyEitherOr, MyLink } from '#sale/either-or/either-or.contract'
import { askSlip } from '#sale/price/slip.rules'

/** Another maximum for one lot of an either-or: folded away, since it shows what one allows. */
export function ChangeLink({ eitherOr, link }: { eitherOr: MyEitherOr; link: MyLink }) {
  const router = useRouter()
  const [isOpen, setOpen] = useState(false)
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.eitherOr.changeLink.mutate)
  const slips = useSlips()
  const { currency } = eitherOr
  const send = async (maximum: string) => {
    const amount = readAmount(maximum, currency)
    const question = typeof amount === 'number' ? askSlip({ ...link, currency }, amount) : null
    return slips.mayGo(question === null ? {} : { maximum: question })
      ? run({ key, eitherOr: eitherOr.id, lot: link.lot, maximum })
      : undefined
  }
  const done = () => {
    slips.forget()
    renew()
    setOpen(false)
    router.refresh()
  }
  if (!isOpen)
    return (
      <button type="button" className="button-line" onClick={() => setOpen(true)}>
        {link.phase === 'awake' ? 'Raise' : 'Change'}
        <span className="visually-hidden"> the most for lot {link.lot}</span>
      </button>
    )
  return (
    <CommandForm
      run={(form) => send(form.text('maximum'))}
      pending={pending}
      refusal={slips.asked ?? refusal}
      onDone={(answer?: EitherOrAnswer) => answer && done()}
      label={`The most for lot ${link.lot}`}
    >
      <MoneyField
        name="maximum"
        label={`The most for lot ${link.lot}`}
        hint={
          link.phase === 'awake'
            ? 'It already counts as a bid, so it can only be raised.'
            : 'It is still waiting: write any amount from the least bid up.'
        }
        currency={currency}
        onChange={slips.forget}
        defaultValue={plainMoney(link.maximumMinor, currency)}
      />
      {slips.asked === null ? (
        <div className="row">
          <SubmitButton>Save</SubmitButton>
          <button type="button" className="button-line" onClick={() => setOpen(false)}>
            Keep it as it is
          </button>
        </div>
      ) : (
        <SlipAnswers slips={slips} yes="Yes, save it" />
      )}
    </CommandForm>
  )
}
