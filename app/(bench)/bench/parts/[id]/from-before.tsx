'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'

/** Asks what nobody can tell from the record: whether all that lies under an entry of earlier days is one part. */
export function FromBefore({ partId, words }: { partId: string; words: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.parts.isOne.mutate)
  return (
    <Notice tone="doubt" title="Is all of this one part?">
      <p>
        This entry was made when a part was known by its value, package and rating alone. Another dielectric or technology, or 10 mΩ beside
        10 MΩ, may have been logged under it. Look into each bag. What is another part is moved with “It is another part” at its batch.
      </p>
      <CommandForm label="One part" pending={pending} refusal={refusal} run={() => run({ partId })} onDone={() => router.refresh()}>
        <SubmitButton kind="line">{`Yes, all of it is ${words}`}</SubmitButton>
      </CommandForm>
    </Notice>
  )
}
