'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { BoardPicture } from '#app/_ui/board-picture.tsx'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { ColumnChooser } from '#app/(bench)/bench/designs/import/column-chooser.tsx'
import { ListField } from '#app/(bench)/bench/designs/import/list-field.tsx'
import { PLACEMENT_UNITS, type PlacementUnit } from '#bench/designs/placement.rules'
import type { TableChoice } from '#kernel/table-in'

type Sheet = { name: string; base64: string } | { name: string; text: string }
type Read = Awaited<ReturnType<typeof api.designs.previewPlacement.mutate>>

const WANTED = ['reference', 'x', 'y', 'side', 'rotation']

/** Reads where parts sit from the file that fabrication houses take; what was guessed is asked about before anything is kept. */
export function PlacementForm({ designId }: { designId: string }) {
  const router = useRouter()
  const [file, setFile] = useState<Sheet>()
  const [choice, setChoice] = useState<TableChoice>({})
  const [unit, setUnit] = useState<PlacementUnit>()
  const [sheet, setSheet] = useState<Sheet>()
  const [read, setRead] = useState<Read | null>(null)
  const look = useCommand(api.designs.previewPlacement.mutate)
  const store = useCommand(api.designs.savePlacement.mutate)
  const lookAt = async (from: Sheet, with_: TableChoice, inUnit: PlacementUnit | undefined) => {
    const found = await look.run({ designId, sheet: { ...from, ...with_ }, unit: inUnit })
    if (found) setRead(found)
    return found
  }
  const asks = read !== null && (read.asked.length > 0 || read.unit.asks)
  return (
    <div className="stack">
      <CommandForm
        label="Placement file"
        pending={look.pending}
        refusal={look.refusal}
        run={(form) => {
          const text = form.text('placement')
          const from: Sheet = text.trim() === '' && file ? file : { name: 'pasted', text }
          setSheet(from)
          setChoice({})
          setUnit(undefined)
          return lookAt(from, {}, undefined)
        }}
      >
        <ListField
          list="placement"
          label="Placement file"
          hint="reference, x, y, side, rotation, in any order; millimetres, mils or inches"
          onFile={setFile}
        />
        <SubmitButton kind="line">Look at it</SubmitButton>
      </CommandForm>
      {read && sheet && (
        <CommandForm
          label="Where parts sit"
          pending={store.pending}
          refusal={store.refusal}
          run={(form) => store.run({ designId, sheet: { ...sheet, ...choice }, unit, confirmGuesses: form.ticked('confirmGuesses') })}
          onDone={() => {
            setRead(null)
            router.refresh()
          }}
        >
          <SelectField
            name="unit"
            label="Figures are in"
            hint={`Taken for ${read.unit.is}: ${read.unit.why}.`}
            value={read.unit.is}
            onChange={(event) => {
              const chosen = PLACEMENT_UNITS.find((one) => one === event.currentTarget.value)
              setUnit(chosen)
              void lookAt(sheet, choice, chosen)
            }}
            options={PLACEMENT_UNITS.map((one) => ({ value: one, label: one }))}
          />
          <ColumnChooser
            sheet={{ list: 'placement', ...read.sheet }}
            wanted={WANTED}
            choice={choice}
            onChoose={(chosen) => {
              setChoice(chosen)
              void lookAt(sheet, chosen, unit)
            }}
          />
          {read.flaws.length > 0 && (
            <Notice tone="bad" title="What cannot be read yet">
              <ul>
                {read.flaws.map(({ line, column, words }) => (
                  <li key={`${line} ${column} ${words}`}>
                    {line > 0 && `Line ${line}: `}
                    {words}
                  </li>
                ))}
              </ul>
            </Notice>
          )}
          <p>
            {read.rows.length} parts.{read.missing.length > 0 && ` Not in the file: ${read.missing.join(', ')}.`}
            {read.beside.length > 0 && ` Beside the parts list: ${read.beside.join(', ')}.`}
          </p>
          <BoardPicture placed={read.rows} points={read.beside} />
          {asks && (
            <CheckField
              name="confirmGuesses"
              label={`It is so: ${[
                ...read.asked.map(({ heading, column, guess }) => `“${heading}” is the ${column} (${guess})`),
                ...(read.unit.asks ? [`figures are in ${read.unit.is} (${read.unit.why})`] : []),
              ].join('; ')}`}
            />
          )}
          <SubmitButton>Keep where parts sit</SubmitButton>
        </CommandForm>
      )}
    </div>
  )
}
