'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { TextField } from '../../../_ui/forms/text-fields'

export function InstrumentForm() {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.bringup.saveInstrument.mutate)
  return (
    <CommandForm
      label="Instrument"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={(form) =>
        run({ name: form.text('name'), accuracy: form.text('accuracy'), checkedOn: form.text('checkedOn'), dueOn: form.text('dueOn') })
      }
      onDone={() => router.refresh()}
    >
      <TextField name="name" label="Name" width="short" />
      <TextField
        name="accuracy"
        label="Accuracy, as its maker writes it"
        hint="Such as ±(0.5 % + 2 digits); several quantities with semicolons: V ±(0.5 % + 2 digits); Ω ±(0.8 % + 2 digits)."
        mono
      />
      <TextField name="checkedOn" label="Last checked on" type="date" width="short" />
      <TextField name="dueOn" label="Due again on" type="date" width="short" />
      <SubmitButton>Add it</SubmitButton>
    </CommandForm>
  )
}
