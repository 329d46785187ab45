'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { plainMoney, showMoney } from '#kernel/money'
import type { BankDesk, BankLineView, PartIn } from '#money/bank/bank.contract'
import { COST_ABOUT, COST_BEARERS, type CostAbout, type CostBearer } from '#money/journal/journal.rules'
import { useBookForm } from '../use-book-form'
import styles from './bank.module.css'

/** What of the desk a line is placed by. */
export type DeskFor = Pick<BankDesk, 'currency' | 'zone' | 'lots' | 'owing' | 'mayWrite'>

type To = PartIn['to']

const INTO: { value: To; label: string }[] = [
  { value: 'lot', label: 'Payment of a lot' },
  { value: 'gift', label: 'A gift of money' },
  { value: 'unplaced', label: 'Unallocated' },
]
const OUT: { value: To; label: string }[] = [
  { value: 'remittance', label: 'Passed on to the cause' },
  { value: 'refund', label: 'Refund' },
  { value: 'cost', label: 'A cost' },
  { value: 'fee', label: 'A fee that was deducted' },
]

/** A person says where a line goes, in parts if need be. All of it needs a place, or nothing is booked. */
export function PlaceForm({ line, desk }: { line: BankLineView; desk: DeskFor }) {
  const { key, run, ...form } = useBookForm(api.bank.place.mutate)
  const choices = line.amountMinor > 0 ? INTO : OUT
  const [parts, setParts] = useState<To[]>([choices[0]?.value ?? 'lot'])
  const whole = plainMoney(Math.abs(line.amountMinor), desk.currency)
  return (
    <CommandForm
      {...form}
      label="Where it goes"
      run={(values) => run({ key, lineId: line.id, parts: parts.map((to, index) => partOf(to, index, values)) })}
    >
      {parts.map((to, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a part has no name but its place
        <fieldset key={index} className={styles.part}>
          <legend>{parts.length === 1 ? 'All of it' : `Part ${index + 1}`}</legend>
          <SelectField
            name={`parts.${index}.to`}
            label="What it is"
            value={to}
            options={choices}
            onChange={(event) => {
              const chosen = choices.find(({ value }) => value === event.currentTarget.value)?.value ?? to
              setParts(parts.map((one, at) => (at === index ? chosen : one)))
            }}
          />
          <PartFields to={to} index={index} desk={desk} />
          <MoneyField
            name={`parts.${index}.amount`}
            label="How much"
            currency={desk.currency}
            defaultValue={index === 0 && parts.length === 1 ? whole : ''}
          />
        </fieldset>
      ))}
      <div className="row">
        <SubmitButton kind="line">Book it</SubmitButton>
        {parts.length < 12 && (
          <button type="button" className="button-line" onClick={() => setParts([...parts, choices[0]?.value ?? 'lot'])}>
            Split off another part
          </button>
        )}
      </div>
    </CommandForm>
  )
}

function PartFields({ to, index, desk }: { to: To; index: number; desk: DeskFor }) {
  const name = (field: string) => `parts.${index}.${field}`
  const show = (minor: number) => showMoney(minor, desk.currency)
  if (to === 'lot') {
    const options = desk.lots
      .filter(({ owedMinor }) => owedMinor > 0)
      .map(({ lot, title, buyer, owedMinor }) => ({ value: String(lot), label: `Lot ${lot}: ${title}, ${buyer}, ${show(owedMinor)}` }))
    return <SelectField name={name('lot')} label="Lot" options={[{ value: '', label: 'Choose a lot' }, ...options]} />
  }
  if (to === 'refund') {
    const options = desk.owing.map(({ entryId, memo, leftMinor }) => ({ value: entryId, label: `${show(leftMinor)}: ${memo}` }))
    return <SelectField name={name('entryId')} label="What is being refunded" options={[{ value: '', label: 'Choose' }, ...options]} />
  }
  if (to === 'gift') return <TextField name={name('from')} label="Who it is from" />
  if (to === 'fee')
    return (
      <>
        <TextField name={name('what')} label="Who deducted it" />
        <Bearer name={name('bearer')} />
      </>
    )
  if (to === 'cost')
    return (
      <>
        <TextField name={name('what')} label="What was bought" />
        <SelectField name={name('about')} label="What it was for" options={COST_ABOUT.map((value) => ({ value, label: value }))} />
        <SelectField
          name={name('lot')}
          label="For which lot"
          optional
          hint="What sending a parcel cost is shown beside what its buyer was charged."
          options={[
            { value: '', label: 'For no single lot' },
            ...desk.lots.map(({ lot, title }) => ({ value: String(lot), label: `Lot ${lot}: ${title}` })),
          ]}
        />
        <Bearer name={name('bearer')} />
      </>
    )
  return null
}

const BEARER_WORDS: Record<CostBearer, string> = {
  seller: 'the seller’s share',
  cause: 'the cause’s share',
  postage: 'the postage that buyers paid',
}

export const Bearer = ({ name, defaultValue }: { name: string; defaultValue?: CostBearer }) => (
  <SelectField
    name={name}
    label="It comes out of"
    {...(defaultValue && { defaultValue })}
    options={COST_BEARERS.map((value) => ({ value, label: BEARER_WORDS[value] }))}
  />
)

function partOf(to: To, index: number, form: FormValues): PartIn {
  const text = (field: string) => form.text(`parts.${index}.${field}`)
  const amount = text('amount')
  const [about, bearer] = [text('about') as CostAbout, text('bearer') as CostBearer]
  switch (to) {
    case 'lot':
      return { to, lot: Number(text('lot')), amount }
    case 'gift':
      return { to, from: text('from'), amount }
    case 'refund':
      return { to, entryId: text('entryId'), amount }
    case 'cost':
      return { to, amount, what: text('what'), about, bearer, ...(text('lot') !== '' && { lot: Number(text('lot')) }) }
    case 'fee':
      return { to, amount, what: text('what'), bearer }
    case 'entry':
      return { to, entryId: text('entryId'), amount }
    default:
      return { to, amount }
  }
}
