'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { When } from '#app/_ui/when.tsx'
import type { SoakFacts, SoakNote } from '#bench/units/soak.rules'
import type { BringupView } from '#floor/bringup/bringup.contract'
import styles from './reading.module.css'

interface SoakNotesProps {
  running: SoakFacts
  view: BringupView
  seen: string
  zone: string
  take(view: BringupView): void
}

/** What was seen while it ran, what is seen now, and how to stop a run that shall have no result. */
export function SoakNotes({ running, view, seen, zone, take }: SoakNotesProps) {
  const { key, renew } = useFormKey()
  const note = useCommand(api.bringup.noteInSoak.mutate)
  const stop = useCommand(api.bringup.stopSoak.mutate)
  const on = { key, tag: view.tag, seen }
  const done = (answer: { view: BringupView }) => {
    renew()
    take(answer.view)
  }
  return (
    <div className={styles.notes}>
      {running.notes.length > 0 && (
        <ul className="plain-list small">
          {running.notes.map((one) => (
            <li key={`${one.at} ${noteWords(one)}`}>
              <When at={one.at} zone={zone} brief />: {noteWords(one)}
            </li>
          ))}
        </ul>
      )}
      <details>
        <summary>Temperature, supply, a note</summary>
        <CommandForm
          key={running.notes.length}
          label="Note during the soak"
          pending={note.pending}
          refusal={note.refusal}
          run={(form) => note.run({ ...on, temperature: form.text('temperature'), supply: form.text('supply'), note: form.text('note') })}
          onDone={done}
        >
          <TextField name="temperature" label="Temperature" optional hint="Such as 31 °C at the regulator." width="short" maxLength={40} />
          <TextField name="supply" label="Supply" optional hint="Such as 12.1 V, 0.34 A." width="short" maxLength={60} />
          <TextField name="note" label="Note" optional maxLength={300} />
          <SubmitButton kind="line">Note it</SubmitButton>
        </CommandForm>
      </details>
      <details>
        <summary>Stop without a result</summary>
        <CommandForm
          label="Stop the soak"
          pending={stop.pending}
          refusal={stop.refusal}
          run={(form) => stop.run({ ...on, reason: form.text('reason') })}
          onDone={done}
        >
          <TextField name="reason" label="Why it is stopped" maxLength={300} />
          <SubmitButton kind="line">Stop the soak</SubmitButton>
        </CommandForm>
      </details>
    </div>
  )
}

const noteWords = ({ power, temperature, supply, words }: SoakNote): string =>
  [power === 'off' ? 'without power' : power === 'on' ? 'power again' : '', temperature, supply, words].filter(Boolean).join(', ')
