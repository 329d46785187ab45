'use client'

import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import type { CampaignIn } from '#people/campaign/campaign.contract'

const SELLERS = [
  { value: '', label: 'Choose who sells' },
  { value: 'private', label: 'A private person' },
  { value: 'trader', label: 'A trader' },
  { value: 'charity', label: 'The charity itself' },
]

interface CampaignFormProps {
  values: CampaignIn | null
  zones: string[]
  currencies: Currency[]
  isNew: boolean
  /** Where it follows another: what that one is to be called in addresses. */
  follows?: { slug: string; name: string; ends: number }
}

export function CampaignForm({ values, zones, currencies, isNew, follows }: CampaignFormProps) {
  const router = useRouter()
  const save = (form: CampaignIn & { slug: string }) => {
    const { slug: _slug, ...campaign } = form
    return follows ? api.nextCampaign.begin.mutate({ ...form, ends: follows.ends }) : api.campaign.save.mutate(campaign)
  }
  const { run, pending, refusal } = useCommand(save)
  // The server lives in a zone of its own; who sets up a campaign most likely means theirs.
  const [zone, setZone] = useState(values?.zone ?? 'UTC')
  useEffect(() => {
    const own = Intl.DateTimeFormat().resolvedOptions().timeZone
    if (isNew && !follows && zones.includes(own)) setZone(own)
  }, [isNew, follows, zones])
  return (
    <CommandForm
      label="Campaign"
      run={(form) =>
        run({
          slug: form.text('slug'),
          name: form.text('name'),
          causeName: form.text('causeName'),
          causeRegistration: form.text('causeRegistration'),
          causeSharePercent: form.text('causeSharePercent'),
          sellerName: form.text('sellerName'),
          sellerAddress: form.text('sellerAddress'),
          sellerKind: form.text('sellerKind') as CampaignIn['sellerKind'],
          currency: form.text('currency') as Currency,
          zone: form.text('zone'),
          streamOpens: form.text('streamOpens'),
          streamCloses: form.text('streamCloses'),
          target: form.text('target'),
          howToPay: form.text('howToPay'),
          cancelWords: form.text('cancelWords'),
          partsAddress: form.text('partsAddress'),
          streamUrl: form.text('streamUrl'),
          playerUrl: form.text('playerUrl'),
          lateWindow: form.text('lateWindow'),
          lateAdds: form.text('lateAdds'),
        })
      }
      pending={pending}
      refusal={refusal}
      onDone={() => (follows ? router.push('/bench/campaign') : isNew ? router.push('/bench') : router.refresh())}
    >
      {follows && (
        <TextField
          name="slug"
          label={`What ${follows.name} is called in addresses from now on`}
          hint={`Its page will stand at /campaigns/${follows.slug}, or at what you write here.`}
          defaultValue={follows.slug}
        />
      )}
      <h2>The cause</h2>
      <TextField name="name" label="Name of the campaign" defaultValue={values?.name} />
      <TextField name="causeName" label="Who benefits" optional defaultValue={values?.causeName} hint="Needed before a lot can open." />
      <TextField name="causeRegistration" label="Their registration number" optional defaultValue={values?.causeRegistration} />
      <TextField
        name="causeSharePercent"
        label="Their share of each hammer price, in per cent"
        width="short"
        inputMode="decimal"
        defaultValue={values?.causeSharePercent ?? '100'}
      />
      <TextField name="target" label="Target" width="short" inputMode="decimal" defaultValue={values?.target} />
      <SelectField
        name="currency"
        label="Currency"
        hint={follows ? 'All campaigns of a house are kept in one currency.' : 'It cannot be changed once the campaign is set up.'}
        defaultValue={values?.currency ?? ''}
        options={[
          ...(values ? [] : [{ value: '', label: 'Choose the currency' }]),
          ...currencies.map((code) => ({ value: code, label: code })),
        ]}
      />
      <h2>The stream</h2>
      <SelectField
        name="zone"
        label="Time zone of the stream"
        key={zone}
        defaultValue={zone}
        options={zones.map((zone) => ({ value: zone, label: zone.replaceAll('_', ' ') }))}
      />
      <TextField
        name="streamOpens"
        label="It begins, in that zone"
        type="datetime-local"
        width="short"
        defaultValue={values?.streamOpens}
      />
      <TextField name="streamCloses" label="It ends" type="datetime-local" width="short" defaultValue={values?.streamCloses} />
      <TextField
        name="streamUrl"
        label="Where the video is watched"
        type="url"
        inputMode="url"
        optional
        hint="Every public page links to it. The whole address, such as https://video.example/long-bench-day."
        defaultValue={values?.streamUrl}
      />
      <TextField
        name="playerUrl"
        label="Address of its player, to show it on our pages"
        type="url"
        inputMode="url"
        optional
        hint="What the video service gives for a page of your own, the address alone. It is loaded only when somebody taps it."
        defaultValue={values?.playerUrl}
      />
      <h2>The sale</h2>
      <p className="small quiet">
        Whether and how a buyer may cancel, and what a seller must say, depends on the country and on who sells. Ask locally; nothing here
        is advice.
      </p>
      <TextField
        name="sellerName"
        label="Who the seller is"
        optional
        hint="Needed before a lot can open."
        defaultValue={values?.sellerName}
      />
      <SelectField name="sellerKind" label="What kind of seller" optional defaultValue={values?.sellerKind} options={SELLERS} />
      <TextareaField name="sellerAddress" label="The seller's address" optional rows={2} defaultValue={values?.sellerAddress} />
      <TextareaField
        name="cancelWords"
        label="How a sale can be cancelled"
        optional
        hint="Needed before a lot can open."
        defaultValue={values?.cancelWords}
      />
      <TextareaField name="howToPay" label="How to pay" optional rows={3} defaultValue={values?.howToPay} />
      <TextField
        name="lateWindow"
        label="A bid is late in the last how many seconds before a closing"
        width="short"
        inputMode="numeric"
        hint="From 30 to 600. The stream’s picture is some thirty seconds late, then somebody thinks, and then the network takes its time."
        defaultValue={values?.lateWindow ?? '120'}
      />
      <TextField
        name="lateAdds"
        label="It moves the closing to how many seconds after it"
        width="short"
        inputMode="numeric"
        hint="From the number above to 900. Open lots keep what their terms say."
        defaultValue={values?.lateAdds ?? '120'}
      />
      <h2>Gifts</h2>
      <TextareaField
        name="partsAddress"
        label="Where parts are sent"
        optional
        rows={2}
        hint="Given to a donor once a promise is confirmed, and shown nowhere else."
        defaultValue={values?.partsAddress}
      />
      <SubmitButton>{follows ? 'End this campaign and begin the next' : isNew ? 'Set it up' : 'Save'}</SubmitButton>
    </CommandForm>
  )
}
