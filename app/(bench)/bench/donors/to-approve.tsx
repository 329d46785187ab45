'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { DeclineGift } from './decline-gift'
import styles from './donors.module.css'

interface ToApproveProps {
  giftId: string
  what: string
  donorId: string
  name: string
  mailHint: string
  note: string
  campaign: string
  mayDecide: boolean
}

/** One promise from outside, with the two answers that the maker can give. */
export function ToApprove({ giftId, what, donorId, name, mailHint, note, campaign, mayDecide }: ToApproveProps) {
  const router = useRouter()
  const accept = useCommand(api.donors.approvePromise.mutate)
  return (
    <div className={styles.gift}>
      <p>
        <b>{what}</b>, promised by <Link href={`/bench/donors/${donorId}`}>{name}</Link> <span className="quiet">({mailHint})</span>
      </p>
      {note !== '' && <p className="quiet">“{note}”</p>}
      {mayDecide ? (
        <div className="row">
          <CommandForm
            run={() => accept.run({ giftId })}
            pending={accept.pending}
            refusal={accept.refusal}
            onDone={() => router.refresh()}
            label={`Accept ${what}`}
          >
            <SubmitButton>Accept it</SubmitButton>
          </CommandForm>
          <DeclineGift giftId={giftId} what={what} name={name} campaign={campaign} hasMail={mailHint !== ''} />
        </div>
      ) : (
        <p className="small quiet">The maker accepts or declines this.</p>
      )}
    </div>
  )
}
