'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'

/** Yes is a contract, so it is asked once more what it costs; no costs nothing. */
export function AnswerForm({ offerId, lot, together, dueDays }: { offerId: string; lot: number; together: string; dueDays: number }) {
  const router = useRouter()
  const { key } = useFormKey()
  const declining = useFormKey()
  const { run, pending, refusal } = useCommand(api.invoices.answerOffer.mutate)
  const done = ({ accepted }: { accepted: boolean }) => (accepted ? router.push(`/me/won/${lot}`) : router.refresh())
  return (
    <div className="row">
      <ConfirmButton
        pending={pending}
        refusal={refusal}
        run={() => run({ key, offerId, accepts: true })}
        onDone={done}
        kind="first"
        title={`Buy lot ${lot} for ${together}?`}
        undoes={
          <p>
            This makes a contract: {together} in all, payable within {dueDays} days. The invoice follows.
          </p>
        }
        confirm="Yes, I’ll take it"
        keep="Not yet"
      >
        I’ll take it…
      </ConfirmButton>
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
