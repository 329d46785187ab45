'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { EitherOrLine } from '#app/_ui/either-or-line.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SlipAnswers } from '#app/_ui/forms/slip-answers.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField } from '#app/_ui/forms/text-fields.tsx'
import { useSlips } from '#app/_ui/forms/use-slips.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { checkReceipt } from '#app/(public)/lots/[number]/verify-receipt.ts'
import { type Currency, showMoney } from '#kernel/money'
import type { EitherOrAnswer, EitherOrLot } from '#sale/either-or/either-or.contract'
import { warningsOf } from '#sale/either-or/either-or.rules'
import type { DayOf } from './day-of'
import { drawn, type Row, sayMade, sentRows, slipsIn } from './draft.rules'
import { LinkRow } from './link-row'

interface EitherOrFormProps {
  day: DayOf
  closings: readonly { number: number; at: number }[]
  lots: readonly EitherOrLot[]
  currency: Currency
  /** The lot from whose page one came. */
  first: number | null
  /** Where we would send it, in words. */
  countryName: string
}

/** Lots in order with a maximum each: drawn on the day's line while it is written, with a warning where one is likely to lapse. */
export function EitherOrForm({ lots, currency, day, closings, first, countryName }: EitherOrFormProps) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.eitherOr.make.mutate)
  const begun = lots.find(({ number }) => number === first) ?? lots[0]
  const [rows, setRows] = useState<Row[]>([
    { id: 1, lot: String(begun?.number ?? ''), maximum: '' },
    { id: 2, lot: '', maximum: '' },
  ])
  const [mostWins, setMostWins] = useState('1')
  const [taken, setTaken] = useState<string | null>(null)
  const slips = useSlips()
  const change = (id: number, changed: Partial<Row>) => {
    setRows(rows.map((row) => (row.id === id ? { ...row, ...changed } : row)))
    slips.forget()
    renew()
  }
  const done = async ({ bids, eitherOr }: EitherOrAnswer) => {
    for (const bid of bids) {
      const { fault } = await checkReceipt(bid)
      if (fault !== null) {
        setTaken(`The house answered, but the receipt for lot ${bid.lot} does not hold: ${fault}`)
        return
      }
    }
    const stands = bids.map(({ lot, leads, standingMinor }) =>
      leads
        ? `you lead lot ${lot} at ${showMoney(standingMinor, currency, { short: true })}`
        : `you have been outbid on lot ${lot} already`,
    )
    setTaken(sayMade(stands, eitherOr.links.filter(({ phase }) => phase === 'waiting').length))
    setRows(rows.map((row) => ({ ...row, lot: '', maximum: '' })))
    slips.forget()
    renew()
    router.refresh()
  }
  const sent = sentRows(rows)
  const { eitherOr, posts } = drawn(rows, { lots, currency, mostWins: Number(mostWins), day })
  const seen = (number: number) => {
    const lot = lots.find((one) => one.number === number)
    return { phase: 'open' as const, closesAt: lot?.closesAt ?? null, leastNextMinor: lot?.leastNextMinor ?? null, currency }
  }
  // It stays when the form goes: with what was just taken there may be too few lots left for another one.
  const said = taken && (
    <Notice tone="ok" live="status">
      {taken}
    </Notice>
  )
  if (lots.length < 2)
    return (
      <>
        {said}
        <p className="quiet">
          An either-or needs two open lots that can be sent to {countryName}; only the first may be one that you have bid on.
        </p>
      </>
    )
  return (
    <>
      {said}
      <CommandForm
        run={async (form) =>
          slips.mayGo(slipsIn(rows, { lots, currency }))
            ? run({
                key,
                mostWins: Number(mostWins),
                cap: form.text('cap'),
                links: sent.map(({ lot, maximum }) => ({ lot: Number(lot), maximum })),
              })
            : undefined
        }
        pending={pending}
        refusal={slips.asked ?? refusal}
        onDone={(answer?: EitherOrAnswer) => void (answer && done(answer))}
        label="A new either-or"
      >
        {rows.map((row, index) => (
          <LinkRow
            key={row.id}
            row={row}
            index={index}
            name={row.lot === '' ? `no-lot.${row.id}` : `links.${sent.indexOf(row)}`}
            lots={lots}
            currency={currency}
            zone={day.zone}
            change={(changed) => change(row.id, changed)}
          />
        ))}
        {rows.length < Math.min(12, lots.length) && (
          <div>
            <button type="button" className="button-line" onClick={() => setRows([...rows, { id: rows.length + 1, lot: '', maximum: '' }])}>
              Another lot
            </button>
          </div>
        )}
        <SelectField
          name="mostWins"
          label="How many of them do you want?"
          value={mostWins}
          onChange={(event) => setMostWins(event.currentTarget.value)}
          options={rows.map((_, index) => ({ value: String(index + 1), label: index === 0 ? 'One' : `At most ${index + 1}` }))}
        />
        <MoneyField name="cap" label="The most for all hammer prices together" optional currency={currency} />
        {posts.length > 1 && (
          <EitherOrLine
            opensAt={day.opensAt}
            closesAt={day.closesAt}
            zone={day.zone}
            now={day.now}
            posts={posts}
            others={closings
              .filter(({ number }) => !eitherOr.links.some(({ lot }) => lot === number))
              .map((one) => ({ at: one.at, label: `Lot ${one.number}`, kind: 'coming' }))}
          />
        )}
        <div aria-live="polite" className="stack close">
          {warningsOf(eitherOr, seen).map((words) => (
            <Notice key={words} tone="doubt">
              {words}
            </Notice>
          ))}
        </div>
        {slips.asked === null ? (
          <SubmitButton wide waiting="Sending your bids">
            Place these bids
          </SubmitButton>
        ) : (
          <SlipAnswers slips={slips} yes="Yes, place these bids" />
        )}
      </CommandForm>
    </>
  )
}
