'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

export interface InstrumentFormProps {
  instrument?: { id: string; name: string; accuracy: string; checkedOn: string; dueOn: string }
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
        })
      }
      onDone={() => router.refresh()}
    >
      <TextField name="name" label="Name" width="short" defaultValue={instrument?.name} />
      <TextField
        name="accuracy"
        label="Accuracy, as its maker writes it"
        hint="Such as ±(0.5 % + 2 digits). Separate several quantities and ranges with semicolons: 6.000 V ±(0.5 % + 2 digits); 60.00 V ±(0.8 % + 2 digits); Ω ±(0.8 % + 2 digits); 6000 counts."
        mono
        defaultValue={instrument?.accuracy}
      />
      <TextField name="checkedOn" label="Last checked on" type="date" width="short" defaultValue={instrument?.checkedOn} />
      <TextField name="dueOn" label="Due again on" type="date" width="short" defaultValue={instrument?.dueOn} />
      <SubmitButton>{instrument ? 'Save the change' : 'Add it'}</SubmitButton>
    </CommandForm>
  )
}
