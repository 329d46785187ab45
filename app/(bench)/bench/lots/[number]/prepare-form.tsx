'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Minor, plainMoney } from '#kernel/money'
import type { PastSales } from '#sale/lots/past-sales.service'
import type { Prepared } from '#sale/lots/prepare.service'
import styles from './prepare.module.css'
import { WhatSuchRaised } from './what-such-raised'

const RESERVES = [
  { value: 'undecided', label: 'Not decided yet' },
  { value: 'none', label: 'None: it goes to the highest bidder' },
  {
    value: 'amount',
    label: 'An amount below which it is not sold',
    hint: 'Bidders see only whether it is reached; the amount is shown after the close.',
  },
] as const

/** All that a lot says of itself in words and figures. */
export function PrepareForm({ prepared: { card, row, extras }, pastSales }: { prepared: Prepared; pastSales: PastSales | null }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.lots.save.mutate)
  const [isSaved, setSaved] = useState(false)
  const [reserveKind, setReserveKind] = useState<string>(row.reserveMinor !== null ? 'amount' : row.reserveDecided ? 'none' : 'undecided')
  const [soldWhere, setSoldWhere] = useState<string>(row.soldWhere)
  const { currency } = card
  const money = (amount: Minor | null) => (amount === null ? '' : plainMoney(amount, currency))
  const whole = (value: number | null) => (value === null ? '' : String(value))
  return (
    <CommandForm
      run={(form) => {
        setSaved(false)
        return run({
          lot: card.number,
          title: form.text('title'),
          story: form.text('story'),
          extras: form.text('extras'),
          opening: form.text('opening'),
          reserveKind: form.text('reserveKind') as 'undecided' | 'none' | 'amount',
          reserve: form.text('reserve'),
          low: form.text('low'),
          likely: form.text('likely'),
          high: form.text('high'),
          weightGrams: form.text('weightGrams'),
          lengthMm: form.text('lengthMm'),
          widthMm: form.text('widthMm'),
          heightMm: form.text('heightMm'),
          soldWhere: form.text('soldWhere') as 'here' | 'elsewhere',
          elsewhereUrl: form.text('elsewhereUrl'),
        }).then((answer) => (answer === undefined ? null : answer))
      }}
      pending={pending}
      refusal={refusal}
      onDone={() => {
        setSaved(true)
        router.refresh()
      }}
      label="What the lot says"
    >
      <div id="title">
        <TextField
          name="title"
          label="Title"
          defaultValue={row.title}
          width="full"
          maxLength={120}
          hint="What it is, in a few words: Saltmarsh shortwave receiver."
        />
      </div>
      <TextareaField
        name="story"
        label="Story"
        defaultValue={row.story}
        rows={7}
        hint="Who built it and from what, how it sounds or behaves. Leave an empty line between paragraphs."
      />
      <TextareaField
        name="extras"
        label="Extras"
        optional
        defaultValue={extras.join('\n')}
        rows={3}
        hint="One per line, such as: a printed booklet."
      />
      <div id="opening" className={styles.figures}>
        <MoneyField name="opening" label="Opening price" currency={currency} defaultValue={money(row.openingMinor)} />
      </div>
      <div id="reserveKind">
        <RadioGroup name="reserveKind" label="Reserve" choices={RESERVES} defaultValue={reserveKind} onChoose={setReserveKind} />
      </div>
      {reserveKind === 'amount' && (
        <MoneyField name="reserve" label="The reserve" currency={currency} defaultValue={money(row.reserveMinor)} />
      )}
      <fieldset>
        <legend className={styles.legend}>Estimate, published before bidding</legend>
        <div className={styles.figures}>
          <MoneyField name="low" label="Low" optional currency={currency} defaultValue={money(row.lowMinor)} />
          <MoneyField name="likely" label="Likely" optional currency={currency} defaultValue={money(row.likelyMinor)} />
          <MoneyField name="high" label="High" optional currency={currency} defaultValue={money(row.highMinor)} />
        </div>
        {pastSales && <WhatSuchRaised sales={pastSales} currency={currency} />}
      </fieldset>
      <fieldset>
        <legend className={styles.legend}>As it will be sent</legend>
        <div className={styles.figures}>
          <div id="weightGrams">
            <TextField name="weightGrams" label="Weight, g" inputMode="numeric" width="short" defaultValue={whole(row.weightGrams)} />
          </div>
          <div id="lengthMm">
            <TextField name="lengthMm" label="Length, mm" inputMode="numeric" width="short" defaultValue={whole(row.lengthMm)} />
          </div>
          <TextField name="widthMm" label="Width, mm" inputMode="numeric" width="short" defaultValue={whole(row.widthMm)} />
          <TextField name="heightMm" label="Height, mm" inputMode="numeric" width="short" defaultValue={whole(row.heightMm)} />
        </div>
      </fieldset>
      <RadioGroup
        name="soldWhere"
        label="Where it is sold"
        choices={[
          { value: 'here', label: 'Here' },
          { value: 'elsewhere', label: 'Elsewhere', hint: 'Same closing, credits and record; its result is entered by hand.' },
        ]}
        defaultValue={soldWhere}
        onChoose={setSoldWhere}
      />
      {soldWhere === 'elsewhere' && (
        <div id="elsewhereUrl">
          <TextField
            name="elsewhereUrl"
            label="Address at which it is sold"
            type="url"
            width="full"
            defaultValue={row.elsewhereUrl ?? ''}
            hint="It begins with https://."
          />
        </div>
      )}
      <div className="row">
        <SubmitButton>Save the lot</SubmitButton>
        <span role="status">{isSaved ? 'Saved.' : ''}</span>
      </div>
    </CommandForm>
  )
}
