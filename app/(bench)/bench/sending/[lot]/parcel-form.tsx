'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { lotsInWords } from '#money/journal/lot-words.rules'
import { CELL_WORDS } from '#money/sending/dangers.rules'
import { CELLS, type Cells, type SendingView } from '#money/sending/sending.contract'
import { showGrams } from '#money/sending/weight.rules'
import styles from './parcel-form.module.css'

/** Weight, size, what is dangerous in it, and what the customs are told where it leaves the country. */
export function ParcelForm({ view, countries }: { view: SendingView; countries: readonly { value: string; label: string }[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.parcel.mutate)
  const { parcel, hints } = view
  const [cells, setCells] = useState<Cells>(parcel.cells)
  const [length, width, height] = parcel.sizeMm ?? []
  const text = (value: number | null | undefined) => (value == null ? '' : String(value))
  return (
    <CommandForm
      label="The parcel"
      pending={pending}
      refusal={refusal}
      run={async (form) =>
        (await run({
          lot: view.lot,
          weightGrams: form.text('weightGrams'),
          lengthMm: form.text('lengthMm'),
          widthMm: form.text('widthMm'),
          heightMm: form.text('heightMm'),
          cells: form.text('cells') as Cells,
          wattHours: form.text('wattHours'),
          mains: form.text('mains') as 'yes',
          goods: form.text('goods'),
          origin: form.text('origin'),
          netGrams: form.text('netGrams'),
          tariffHint: form.text('tariffHint'),
        })) ?? null
      }
      onDone={() => router.refresh()}
    >
      {view.beside.length > 0 && (
        <p>
          Weight and size are those of the whole parcel, with {lotsInWords(view.beside.map(({ lot }) => lot))} in it. What follows below is
          about lot {view.lot} alone.
        </p>
      )}
      <div className={styles.three}>
        <TextField name="weightGrams" label="Weight, g" inputMode="numeric" width="code" defaultValue={text(parcel.weightGrams)} />
        <TextField name="lengthMm" label="Length, mm" inputMode="numeric" width="code" defaultValue={text(length)} />
        <TextField name="widthMm" label="Width, mm" inputMode="numeric" width="code" defaultValue={text(width)} />
        <TextField name="heightMm" label="Height, mm" inputMode="numeric" width="code" defaultValue={text(height)} />
      </div>
      {parcel.chargeableGrams !== null && (
        <p>
          {parcel.volumetricGrams !== null && `For its size it is charged as ${showGrams(parcel.volumetricGrams)}. `}
          The carrier charges for {showGrams(parcel.chargeableGrams)}
          {parcel.weightGrams === null && ', going by the lot’s own weight'}. {view.postage.words}
        </p>
      )}
      <RadioGroup
        name="cells"
        label="Cells in the parcel"
        hint={hints.cells ? `Its description says: “${hints.cells}”` : undefined}
        defaultValue={parcel.cells}
        onChoose={(value) => setCells(CELLS.find((one) => one === value) ?? 'unsaid')}
        choices={CELLS.filter((one) => one !== 'unsaid').map((value) => ({ value, label: CELL_WORDS[value] }))}
      />
      {cells.startsWith('ion') && (
        <TextField
          name="wattHours"
          label="Watt-hours on the battery"
          inputMode="decimal"
          width="code"
          defaultValue={parcel.milliwattHours === null ? '' : String(parcel.milliwattHours / 1000)}
        />
      )}
      <RadioGroup
        name="mains"
        label="It runs from the mains"
        hint={hints.mains ? `Its description says: “${hints.mains}”` : undefined}
        defaultValue={parcel.mains}
        choices={[
          { value: 'no', label: 'No, from a low voltage or from cells' },
          { value: 'yes', label: 'Yes' },
        ]}
      />
      {view.isAbroad ? (
        <fieldset className="stack">
          <legend>For customs</legend>
          <TextField name="goods" label="What it is, in plain words" defaultValue={parcel.goods} />
          <SelectField
            name="origin"
            label="Where it was made"
            defaultValue={parcel.origin}
            options={[{ value: '', label: 'Choose' }, ...countries]}
          />
          <TextField
            name="netGrams"
            label="Net weight, g"
            optional
            inputMode="numeric"
            width="code"
            hint="The goods without their packing."
            defaultValue={text(parcel.netGrams)}
          />
          <TextField
            name="tariffHint"
            label="Harmonised code"
            optional
            mono
            width="short"
            hint="6 to 10 figures. The carrier or the customs office can tell you which; ask rather than guess."
            defaultValue={parcel.tariffHint}
          />
        </fieldset>
      ) : (
        <>
          <input type="hidden" name="goods" value={parcel.goods} />
          <input type="hidden" name="origin" value={parcel.origin} />
          <input type="hidden" name="netGrams" value={text(parcel.netGrams)} />
          <input type="hidden" name="tariffHint" value={parcel.tariffHint} />
        </>
      )}
      <div>
        <SubmitButton>Save the parcel</SubmitButton>
      </div>
    </CommandForm>
  )
}
