'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { listWords } from '../../../../../server/donors/gift.rules'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { ConfirmButton } from '../../../../_ui/forms/confirm-button'
import { TextareaField } from '../../../../_ui/forms/text-fields'
import { Notice } from '../../../../_ui/notice'
import styles from '../parts.module.css'

interface Touched {
  unitId: string
  tag: string
  pieces: number
  certificate: string | null
  lot: { number: number; title: string; state: string } | null
  buyer: { name: string; email: string } | null
}

interface QuarantineProps {
  batchId: string
  code: string
  isOut: boolean
  touched: readonly Touched[]
  inHand: number
}

/** One action that reaches from the batch to the buyers: it says beforehand what it touches, and afterwards whom to tell. */
export function Quarantine({ batchId, code, isOut, touched, inHand }: QuarantineProps) {
  const router = useRouter()
  const out = useCommand(api.quarantine.batch.mutate)
  const back = useCommand(api.quarantine.clear.mutate)
  const [toTell, setToTell] = useState<readonly Touched[] | null>(null)
  if (isOut) {
    return (
      <>
        {toTell && <WhomToTell touched={toTell} />}
        <ConfirmButton
          run={(form) => back.run({ batchId, reason: form.text('reason') })}
          pending={back.pending}
          refusal={back.refusal}
          onDone={() => router.refresh()}
          title={`Clear ${code}?`}
          undoes={
            <p>
              What is in hand may be fitted again. Units stay set aside until each is taken up, and withdrawn certificates stay withdrawn.
            </p>
          }
          confirm="Clear it"
          fields={<TextareaField name="reason" label="What showed that it is sound?" rows={3} maxLength={500} />}
        >
          The suspicion was unfounded…
        </ConfirmButton>
      </>
    )
  }
  return (
    <ConfirmButton
      run={(form) => out.run({ batchId, reason: form.text('reason') })}
      pending={out.pending}
      refusal={out.refusal}
      onDone={(answer) => {
        setToTell(answer)
        router.refresh()
      }}
      title={`Quarantine ${code}?`}
      undoes={
        <>
          <p>{inHand === 0 ? 'Nothing of it is in hand.' : `${inHand} in hand cannot be fitted any more.`}</p>
          {touched.length === 0 ? <p>No unit holds a piece of it.</p> : <TouchedList touched={touched} />}
          <p>It can be cleared later; certificates that are withdrawn stay withdrawn.</p>
        </>
      }
      confirm="Quarantine it"
      fields={<TextareaField name="reason" label="What is suspected?" rows={3} maxLength={500} />}
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

function WhomToTell({ touched }: { touched: readonly Touched[] }) {
  const buyers = touched.flatMap(({ buyer, tag }) => (buyer ? [{ ...buyer, tag }] : []))
  return (
    <Notice tone="bad" live="status" title="Set aside. Whom to tell:">
      {buyers.length === 0 && <p>No buyer has a unit with a piece of it.</p>}
      <ul className={styles.touched}>
        {buyers.map((buyer) => (
          <li key={buyer.tag}>
            {buyer.name}, who bought {buyer.tag}: <a href={`mailto:${buyer.email}`}>{buyer.email}</a>
          </li>
        ))}
      </ul>
      {touched.length > 0 && (
        <p>
          At the bench: whoever works on{' '}
          {listWords(
            touched.map(({ tag }) => tag),
            'and',
          )}
          .
        </p>
      )}
    </Notice>
  )
}
