'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'

export function AnswerForm({ offerId, lot }: { offerId: string; lot: number }) {
  const router = useRouter()
  const { key } = useFormKey()
  const declining = useFormKey()
  const { run, pending, refusal } = useCommand(api.invoices.answerOffer.mutate)
  const done = ({ accepted }: { accepted: boolean }) => (accepted ? router.push(`/me/won/${lot}`) : router.refresh())
  return (
    <div className="row">
      <CommandForm
        label="Accept the offer"
        pending={pending}
        refusal={refusal}
        run={() => run({ key, offerId, accepts: true })}
        onDone={done}
      >
        <SubmitButton>Yes, I’ll take it</SubmitButton>
      </CommandForm>
      <CommandForm
        label="Decline the offer"
        pending={pending}
        refusal={null}
        run={() => run({ key: declining.key, offerId, accepts: false })}
        onDone={done}
      >
        <SubmitButton kind="line">No, thank you</SubmitButton>
      </CommandForm>
    </div>
  )
}
