'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { type Currency, showMoney } from '../../../../../server/kernel/money'
import { postageTo } from '../../../../../server/lots/postage.rules'
import type { Address, MyParcel } from '../../../../../server/sending/sending.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { SelectField, TextareaField, TextField } from '../../../../_ui/forms/text-fields'

export interface AddressFormProps {
  lot: number
  address: Address | null
  name: string
  country: string
  countries: readonly { value: string; label: string }[]
  postage: MyParcel['postage']
  currency: Currency
}

/** Asked only now that something goes there. */
export function AddressForm({ lot, address, name, country, countries, postage, currency }: AddressFormProps) {
  const router = useRouter()
  const [to, setTo] = useState(address?.country ?? country)
  const change = postage && to !== '' && to !== postage.country ? changeOf(postage, to, currency) : null
  const { run, pending, refusal } = useCommand(api.sending.sayAddress.mutate)
  return (
    <CommandForm
      label="Where it goes"
      pending={pending}
      refusal={refusal}
      run={async (form) =>
        (await run({
          lot,
          name: form.text('name'),
          street: form.text('street'),
          place: form.text('place'),
          postcode: form.text('postcode'),
          country: form.text('country'),
          telephone: form.text('telephone'),
        })) ?? null
      }
      onDone={() => router.refresh()}
    >
      <TextField name="name" label="Name on the parcel" autoComplete="shipping name" defaultValue={address?.name ?? name} />
      <TextareaField name="street" label="Street and number" rows={2} defaultValue={address?.street} />
      <TextField
        name="postcode"
        label="Postcode"
        optional
        width="code"
        autoComplete="shipping postal-code"
        defaultValue={address?.postcode}
      />
      <TextField name="place" label="Town" autoComplete="shipping address-level2" defaultValue={address?.place} />
      <SelectField
        name="country"
        label="Country"
        value={to}
        onChange={(event) => setTo(event.currentTarget.value)}
        hint={change ?? undefined}
        options={[{ value: '', label: 'Choose a country' }, ...countries]}
      />
      <TextField
        name="telephone"
        label="Telephone for the carrier"
        optional
        type="tel"
        width="short"
        autoComplete="shipping tel"
        defaultValue={address?.telephone}
      />
      <div>
        <SubmitButton>Send it there</SubmitButton>
      </div>
    </CommandForm>
  )
}

/** What another country means for the invoice, before it is said. */
function changeOf({ minor, table }: NonNullable<MyParcel['postage']>, to: string, currency: Currency): string {
  const there = postageTo(table, to)
  if (!there) return 'This lot is not sent there.'
  const [now, then] = [showMoney(minor, currency), showMoney(there.amountMinor, currency)]
  return minor === there.amountMinor
    ? `Postage there is ${then}, as now.`
    : `Postage there is ${then} instead of ${now}; your invoice changes with it.`
}
