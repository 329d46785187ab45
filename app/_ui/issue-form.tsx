'use client'

import { useRouter } from 'next/navigation'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckboxGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, showMoney } from '#kernel/money'
import type { ToInvoice } from '#money/documents/documents.contract'

export interface IssueFormProps {
  waiting: ToInvoice
  currency: Currency
  isOwn?: boolean
  issue: (input: { key: string; lots: number[]; name: string; address: string }) => Promise<unknown>
}

/** One invoice over the lots that are ticked; to whom it is made out is asked each time. */
export function IssueForm({ waiting, currency, isOwn = false, issue }: IssueFormProps) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(issue)
  const { lots, name, address, buyer } = waiting
  return (
    <CommandForm
      label={`An invoice for ${buyer}`}
      pending={pending}
      refusal={refusal}
      run={async (form) =>
        (await run({ key, lots: form.list('lots').map(Number), name: form.text('name'), address: form.text('address') })) ?? null
      }
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <CheckboxGroup
        name="lots"
        label={lots.length === 1 ? 'For this lot' : 'For these lots'}
        hint={lots.length === 1 ? undefined : 'All you tick go on one invoice and are paid together, under one reference.'}
        defaultValues={lots.map(({ lot }) => String(lot))}
        choices={lots.map(({ lot, title, priceMinor, postageMinor, isPaid }) => ({
          value: String(lot),
          label: `Lot ${lot}, ${title}: ${showMoney(priceMinor + postageMinor, currency)}${isPaid ? ', paid' : ''}`,
        }))}
      />
      <TextField name="name" label="Made out to" defaultValue={name} />
      <TextareaField
        name="address"
        label={isOwn ? 'Your address' : 'Their address'}
        hint="Street, place, postcode and country. It stays on the invoice."
        rows={4}
        defaultValue={address}
      />
      <div>
        <SubmitButton>Issue the invoice</SubmitButton>
      </div>
    </CommandForm>
  )
}
