'use client'

import { useRouter } from 'next/navigation'
import { VERDICTS, type Verdict } from '../../../../../server/parts/part.contract'
import { countsAsGood } from '../../../../../server/parts/piece.rules'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { Chip } from '../../../../_ui/chip'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { SelectField, TextField } from '../../../../_ui/forms/text-fields'
import styles from '../parts.module.css'

type Said = Exclude<Verdict, 'not inspected'>
const SAID = VERDICTS.filter((verdict): verdict is Said => verdict !== 'not inspected')
const BENCH_READERS = 'Reader 1, meter 2 or by eye.'

interface PieceSheetProps {
  piece: { id: string; tag: string; verdict: Verdict; symptom: string; imageSha256: string | null }
  programmed: boolean
  looks: { id: string; reader: string; verdict: Verdict; symptom: string }[]
}

/** A piece with a tag: what was seen, by which reader, and apart from it what is concluded. */
export function PieceSheet({ piece, programmed, looks }: PieceSheetProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.parts.inspect.mutate)
  const isGood = countsAsGood(piece.verdict, programmed)
  const choices = programmed ? SAID : SAID.filter((verdict) => ['good', 'dead', 'wrong part', 'suspect'].includes(verdict))
  return (
    <li className={styles.piece}>
      <div className="row apart">
        <span className="code">{piece.tag}</span>
        <Chip tone={piece.verdict === 'not inspected' ? 'plain' : isGood ? 'ok' : piece.verdict === 'reader uncertain' ? 'doubt' : 'bad'}>
          {piece.verdict.charAt(0).toUpperCase() + piece.verdict.slice(1)}
        </Chip>
      </div>
      {looks.map((look) => (
        <p key={look.id} className="small quiet">
          {look.reader}: {look.verdict}
          {look.symptom !== '' && `; ${look.symptom}`}
        </p>
      ))}
      <details>
        <summary className="small">Inspect it</summary>
        <CommandForm
          run={(form) =>
            run({
              pieceId: piece.id,
              reader: form.text('reader'),
              verdict: form.text('verdict') as Said,
              symptom: form.text('symptom'),
              imageSha256: form.text('imageSha256'),
              idcode: form.text('idcode'),
            })
          }
          pending={pending}
          refusal={refusal}
          onDone={() => router.refresh()}
          emptyWhenDone
          label={`Inspect ${piece.tag}`}
        >
          <TextField name="reader" label="With what?" hint={BENCH_READERS} maxLength={120} />
          <TextField name="symptom" label="What was seen" hint="As seen, without conclusion." optional maxLength={500} />
          <SelectField name="verdict" label="What you conclude" options={choices.map((value) => ({ value, label: value }))} />
          {programmed && (
            <>
              <TextField name="imageSha256" label="SHA-256 of the image read back" optional mono maxLength={64} />
              <TextField name="idcode" label="Identification code" optional mono width="short" maxLength={10} />
            </>
          )}
          <SubmitButton kind="line">Keep it</SubmitButton>
        </CommandForm>
      </details>
    </li>
  )
}
