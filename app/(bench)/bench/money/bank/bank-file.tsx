'use client'

import { useRouter } from 'next/navigation'
import { useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { When } from '#app/_ui/when.tsx'
import { ColumnChooser } from '#app/(bench)/bench/designs/import/column-chooser.tsx'
import { ListField } from '#app/(bench)/bench/designs/import/list-field.tsx'
import { type Currency, showMoney } from '#kernel/money'
import type { BankPreview } from '#money/bank/bank.contract'
import { BANK_COLUMNS } from '#money/bank/statement-file.rules'
import type { BankChoice } from '#money/bank/statement-questions.rules'
import { FileFlaws } from './file-flaws'
import { nameOf } from './layouts'
import { LinesAsRead } from './lines-as-read'

type Sheet = { name: string; base64?: string; text?: string } & BankChoice

/** First shows how a file is read and asks what it does not say; once nothing is open, the same button keeps its lines. */
export function BankFile({ currency, zone }: { currency: Currency; zone: string }) {
  const router = useRouter()
  const look = useCommand(api.bank.preview.mutate)
  const store = useCommand(api.bank.import.mutate)
  const file = useRef<{ name: string; base64: string } | undefined>(undefined)
  const [seen, setSeen] = useState<{
    source: Sheet
    choice: BankChoice
    answer: BankPreview
    remembered: BankPreview['remembered']
  } | null>(null)
  const [told, setTold] = useState('')
  const isReady = seen !== null && seen.answer.flaws.length === 0 && seen.answer.questions.every(({ isAnswered }) => isAnswered)

  // An answer that is given while the last one is being read is kept, and read as soon as that is done.
  const wished = useRef<BankChoice>({})
  const read = async (source: Sheet, choice: BankChoice): Promise<void> => {
    wished.current = choice
    const answer = await look.run({ ...source, ...choice })
    if (!answer) return
    // What is remembered of its bank is from now on a choice like any other, which the next one changes.
    const wasRemembered = answer.remembered ?? (choice.afresh || source !== seen?.source ? null : seen.remembered)
    const said = { ...choice, ...answer.remembered?.choice }
    setSeen({ source, choice: said, answer, remembered: wasRemembered })
    if (wished.current !== choice) await read(source, { ...said, ...wished.current })
    else wished.current = said
  }
  const choose = (source: Sheet, change: BankChoice) => void read(source, { ...wished.current, ...change })
  return (
    <CommandForm
      label="A bank’s file"
      pending={look.pending || store.pending}
      refusal={look.refusal ?? store.refusal}
      run={async (form) => {
        setTold('')
        const text = form.text('bank')
        const source: Sheet = text.trim() === '' ? (file.current ?? { name: '', text: '' }) : { name: 'pasted', text }
        const isSame = seen !== null && JSON.stringify(source) === JSON.stringify(seen.source)
        if (!isReady || !isSame || !seen) {
          store.forget()
          await (isSame && seen ? read(seen.source, seen.choice) : read(source, {}))
          return undefined
        }
        const taken = await store.run({ ...source, ...seen.choice })
        if (!taken) return undefined
        const { fresh, known } = taken
        setTold(`${fresh === 1 ? 'One line is' : `${fresh} lines are`} new, ${known === 1 ? 'one was' : `${known} were`} here already.`)
        setSeen(null)
        router.refresh()
        return taken
      }}
    >
      <ListField
        list="bank"
        label="Lines of the account"
        hint="CSV with a date, an amount (or paid in and paid out), and value date, words, name, reference, currency, balance where the bank has them; or a statement in XML, camt.053 (ISO 20022)"
        onFile={(chosen) => {
          file.current = chosen
          setSeen(null)
        }}
      />
      {seen && (
        <div className="stack" role="status">
          {seen.remembered && (
            <div className="row">
              <p>
                Read as was said for {nameOf(seen.remembered.file)}, <When at={seen.remembered.at} zone={zone} brief />
                {seen.choice.sign === 'turned' && ': a minus sign means money that came in'}. What you change is remembered instead.
              </p>
              <button type="button" className="button-line" onClick={() => void read(seen.source, { afresh: true })}>
                Read it by its own headings
              </button>
            </div>
          )}
          {seen.answer.table.columns.length > 0 && (
            <ColumnChooser
              sheet={{ list: 'bank', ...seen.answer.table }}
              wanted={BANK_COLUMNS.map(({ name }) => name)}
              choice={seen.choice}
              onChoose={(choice) => choose(seen.source, choice)}
            />
          )}
          {seen.answer.balances.map((one) => (
            <p key={`${one.opensOn} ${one.closesOn} ${one.closingMinor}`}>
              The bank says: {showMoney(one.openingMinor, currency)} on {one.opensOn}, {showMoney(one.closingMinor, currency)} on{' '}
              {one.closesOn}. These balances are kept with the lines.
            </p>
          ))}
          {seen.answer.flaws.length > 0 && <FileFlaws title="Why the file cannot be imported" flaws={seen.answer.flaws} />}
          {seen.answer.questions.map(({ ask, words, answers }) => (
            <RadioGroup
              key={ask}
              name={ask}
              label={words}
              defaultValue={seen.choice[ask]}
              onChoose={(value) => choose(seen.source, { [ask]: value })}
              choices={answers}
            />
          ))}
          {seen.answer.flaws.length === 0 && <LinesAsRead answer={seen.answer} currency={currency} />}
        </div>
      )}
      <div className="row">
        <SubmitButton>
          {isReady ? `Keep ${seen.answer.fresh === 1 ? 'the new line' : `the ${seen.answer.fresh} new lines`}` : 'Show how it is read'}
        </SubmitButton>
        <span role="status">{told}</span>
      </div>
    </CommandForm>
  )
}
