'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, showMoney } from '#kernel/money'
import type { CountryForm } from '#money/sending/postal.rules'
import type { Address, MyParcel } from '#money/sending/sending.contract'
import { postageTo } from '#sale/lots/postage.rules'

export interface AddressFormProps {
  lot: number
  address: Address | null
  name: string
  country: string
  /** What a country asks beside street, postcode and town. */
  forms: Record<string, CountryForm>
  countries: readonly { value: string; label: string }[]
  postage: MyParcel['postage']
  currency: Currency
}

/** Asked only now that something goes there. */
export function AddressForm({ lot, address, name, country, countries, forms, postage, currency }: AddressFormProps) {
  const router = useRouter()
  const [to, setTo] = useState(address?.country ?? country)
  const { run, pending, refusal } = useCommand(api.sending.sayAddress.mutate)
  const { label, isNeeded, isTownFirst, needsPostcode = false } = forms[to] ?? {}
  const town = <TextField key="place" name="place" label="Town" autoComplete="shipping address-level2" defaultValue={address?.place} />
  const region = label && (
    <TextField
      key="region"
      name="region"
      label={label}
      optional={!isNeeded}
      autoComplete="shipping address-level1"
      defaultValue={address?.region}
    />
  )
  const postcode = (
    <TextField
      key="postcode"
      name="postcode"
      label="Postcode"
      optional={!needsPostcode}
      width="code"
      autoComplete="shipping postal-code"
      defaultValue={address?.postcode}
    />
  )
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
          region: form.text('region'),
          country: form.text('country'),
          telephone: form.text('telephone'),
        })) ?? null
      }
      onDone={() => router.refresh()}
    >
      <TextField name="name" label="Name on the parcel" autoComplete="shipping name" defaultValue={address?.name ?? name} />
      <TextareaField name="street" label="Street and number" rows={2} defaultValue={address?.street} />
      <SelectField
        name="country"
        label="Country"
        value={to}
        onChange={(event) => setTo(event.currentTarget.value)}
        hint={to === '' ? undefined : postageWords(postage, to, currency)}
        options={[{ value: '', label: 'Choose a country' }, ...countries]}
      />
      {isTownFirst ? [town, region, postcode] : [postcode, town, region]}
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

/** What a country means for the invoice, before it is said; nothing where the invoice stays as it is. */
function postageWords({ chargedMinor, isByHand, table }: MyParcel['postage'], to: string, currency: Currency): string | undefined {
  if (table.length === 0) return undefined
  const there = postageTo(table, to)
  if (!there) return 'This lot cannot be sent there.'
  if (isByHand || there.amountMinor === chargedMinor) return undefined
  return `Postage there is ${showMoney(there.amountMinor, currency)} instead of ${showMoney(chargedMinor, currency)}; your invoice changes with it.`
}
