'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { lotsInWords } from '#money/journal/lot-words.rules'
import type { MyParcel } from '#money/sending/sending.contract'

/** Whoever won several lots says how they want them sent; the maker decides, by what fits into a parcel. */
export function WishForm({ lot, mine }: { lot: number; mine: MyParcel }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.wish.mutate)
  return (
    <CommandForm
      label="One parcel or several"
      pending={pending}
      refusal={refusal}
      run={async (form) => (await run({ lot, wants: form.text('wants') === 'several' ? 'several' : 'one' })) ?? null}
      onDone={() => router.refresh()}
    >
      <RadioGroup
        name="wants"
        label={`You have also won ${lotsInWords(mine.couldJoin)}. How shall we send them?`}
        defaultValue={mine.wish ?? 'one'}
        choices={[
          { value: 'one', label: 'One parcel, please' },
          { value: 'several', label: 'A parcel for each' },
        ]}
        hint="The maker sees your wish and decides by what fits into one parcel."
      />
      <div>
        <SubmitButton kind="line">{mine.wish === null ? 'Say so' : 'Change my wish'}</SubmitButton>
      </div>
    </CommandForm>
  )
}
