'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

export interface InstrumentFormProps {
  instrument?: { id: string; name: string; accuracy: string; checkedOn: string; dueOn: string; checkedBy: string; checkedAgainst: string }
}

/** Adds an instrument, or writes down that one was checked again. */
export function InstrumentForm({ instrument }: InstrumentFormProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.bringup.saveInstrument.mutate)
  return (
    <CommandForm
      label="Instrument"
      pending={pending}
      refusal={refusal}
      emptyWhenDone={instrument === undefined}
      run={(form) =>
        run({
          ...(instrument ? { id: instrument.id } : {}),
          name: form.text('name'),
          accuracy: form.text('accuracy'),
          checkedOn: form.text('checkedOn'),
          dueOn: form.text('dueOn'),
          checkedBy: form.text('checkedBy'),
          checkedAgainst: form.text('checkedAgainst'),
        })
      }
      onDone={() => router.refresh()}
    >
      <TextField name="name" label="Name" width="short" defaultValue={instrument?.name} />
      <TextField
        name="accuracy"
        label="Accuracy, as its maker writes it"
        hint="Such as ±(0.5 % + 2 digits). Separate several quantities and ranges with semicolons: 6.000 V ±(0.5 % + 2 digits); 60.00 V ±(0.8 % + 2 digits); Ω ±(0.8 % + 2 digits); V rms ±(1.0%+3); 6000 counts. V alone is DC; V rms, V rms sine (right for a sine only) and Vpp are quantities of their own. The frequencies between which one holds stand behind it: V rms 45 Hz to 1 kHz ±(1.0%+3); Vpp up to 20 MHz ±3 %. Digits need counts or ranges."
        mono
        defaultValue={instrument?.accuracy}
      />
      <TextField name="checkedOn" label="Last checked on" type="date" width="short" defaultValue={instrument?.checkedOn} />
      <TextField name="checkedBy" label="Who checked it" optional width="short" defaultValue={instrument?.checkedBy} maxLength={80} />
      <TextField
        name="checkedAgainst"
        label="Against what"
        hint="Such as a reference of 5.000 V, or another meter."
        optional
        defaultValue={instrument?.checkedAgainst}
        maxLength={120}
      />
      <TextField name="dueOn" label="Due again on" type="date" width="short" defaultValue={instrument?.dueOn} />
      <SubmitButton>{instrument ? 'Save the change' : 'Add it'}</SubmitButton>
    </CommandForm>
  )
}
