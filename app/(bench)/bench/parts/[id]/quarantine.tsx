'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'
import { listWords } from '#stock/donors/gift.rules'
import styles from './quarantine.module.css'

interface Touched {
  unitId: string
  tag: string
  pieces: number
  certificate: string | null
  lot: { number: number; title: string; state: string } | null
  buyer: { name: string } | null
}

interface QuarantineProps {
  batchId: string
  code: string
  isOut: boolean
  touched: readonly Touched[]
  inHand: number
  donorName: string | null
}

/** One action that reaches from the batch to the buyers: it says beforehand what it touches, and afterwards whom to tell. */
export function Quarantine({ batchId, code, isOut, touched, inHand, donorName }: QuarantineProps) {
  const router = useRouter()
  const out = useCommand(api.quarantine.batch.mutate)
  const back = useCommand(api.quarantine.clear.mutate)
  if (isOut) {
    return (
      <ConfirmButton
        run={(form) => back.run({ batchId, reason: form.text('reason') })}
        pending={back.pending}
        refusal={back.refusal}
        onDone={() => router.refresh()}
        title={`Clear ${code}?`}
        undoes={
          <p>
            What is in hand may be fitted again. Units stay set aside until each is put back to work, and withdrawn certificates stay
            withdrawn.
          </p>
        }
        confirm="Clear it"
        fields={<TextareaField name="reason" label="What showed that it is good?" rows={3} maxLength={500} />}
      >
        The suspicion was unfounded…
      </ConfirmButton>
    )
  }
  return (
    <ConfirmButton
      run={(form) => out.run({ batchId, reason: form.text('reason') })}
      pending={out.pending}
      refusal={out.refusal}
      onDone={() => router.refresh()}
      title={`Quarantine ${code}?`}
      undoes={
        <>
          <p>{inHand === 0 ? 'None of it is in hand.' : `${inHand} in hand can no longer be fitted.`}</p>
          {touched.length === 0 ? <p>No unit holds a piece of it.</p> : <TouchedList touched={touched} />}
          {donorName && (
            <p>{donorName}, who gave it, has to be told; there will be a letter for you to edit. This sends nothing to anybody.</p>
          )}
          <p>It can be cleared later; certificates that are withdrawn stay withdrawn.</p>
        </>
      }
      confirm="Quarantine it"
      fields={
        <TextareaField
          name="reason"
          label="What is suspected?"
          hint="It is shown on the public page of each withdrawn certificate. Name nobody."
          rows={3}
          maxLength={500}
        />
      }
    >
      Quarantine {code}…
    </ConfirmButton>
  )
}

function TouchedList({ touched }: { touched: readonly Touched[] }) {
  return (
    <ul className={styles.touched}>
      {touched.map(({ unitId, tag, pieces, certificate, lot, buyer }) => {
        const follows = [
          'is set aside',
          certificate ? `certificate ${certificate} is withdrawn` : '',
          lot?.state === 'open' ? `lot ${lot.number} goes on hold at once` : '',
          lot && lot.state !== 'open' && lot.state !== 'sold' ? `lot ${lot.number} cannot open` : '',
          buyer ? `${buyer.name}, who bought it, must be told` : '',
        ].filter(Boolean)
        return (
          <li key={unitId}>
            <b>{tag}</b>, which holds {pieces}: {listWords(follows, 'and')}
          </li>
        )
      })}
    </ul>
  )
}
