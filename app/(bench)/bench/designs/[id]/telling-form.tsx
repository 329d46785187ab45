'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckboxGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import type { readTelling } from '#bench/designs/telling.service'

/** Which readings a bidder sees first: those that tell what the machine is for. */
export function TellingForm({ designId, telling }: { designId: string; telling: ReturnType<typeof readTelling> }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand((checks: string[]) =>
    api.designs.chooseTelling.mutate({ designId, checks }).then(() => true),
  )
  return (
    <CommandForm
      key={telling.chosen.join()}
      run={(form) => run(form.list('checks'))}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      label="Readings on a lot’s page"
    >
      <CheckboxGroup
        name="checks"
        label="Readings that tell what it is for"
        hint={
          telling.isUsual
            ? 'Now one from each block, function before supply. Choose up to eight of your own.'
            : 'Your own choice, for every revision. Choose none to go back to one from each block.'
        }
        defaultValues={telling.chosen}
        choices={telling.choices.map(({ key, title, blocks }) => ({ value: key, label: `${key} ${title}`, hint: blocks.join(', ') }))}
      />
      <SubmitButton kind="line">Show these</SubmitButton>
    </CommandForm>
  )
}
