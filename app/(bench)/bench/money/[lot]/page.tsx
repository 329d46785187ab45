import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { ReliefNote } from '#app/_ui/relief-note.tsx'
import { SumLines } from '#app/_ui/sum-lines.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { type Currency, plainMoney, showMoney } from '#kernel/money'
import { roundedWords } from '#money/journal/rounding.rules'
import type { SoldLot } from '#money/journal/sold.contract'
import { FixedPriceDesk } from '../../_fixed-price/fixed-price-desk'
import { StaffOnly } from '../../_refused/staff-only'
import { CreditorReference } from '../creditor-reference'
import { PaymentForm } from './payment-form'
import { PostageForm } from './postage-form'
import { FallThroughButton, ReduceButton, WentBackButton } from './undo-sale'

export const metadata: Metadata = { title: 'A lot’s money' }

const ROLES = ['maker', 'treasurer'] as const

export default async function LotMoneyPage({ params }: { params: Promise<{ lot: string }> }) {
  const { lot: number } = await params
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const books = await caller.books.all()
  const lot = books?.statement.lots.find((each) => String(each.number) === number)
  if (!books || !lot) notFound()
  const { currency } = books.meter
  const desk = (await caller.fixedPrice.desks()).find((one) => one.lot === lot.number)
  const reliefs = await caller.relief.ofLot({ lot: lot.number })
  const show = (minor: number) => showMoney(minor, currency)
  const rounded = roundedWords({ priceMinor: lot.hammerMinor, shareBp: lot.shareBp, causeMinor: lot.causeMinor, currency })
  const owedBack = books.unplaced.filter((item) => item.lot === lot.number)
  const lines = [
    ...(lot.fellAtMinor > 0 ? [{ words: 'Hammer price', amount: show(lot.fellAtMinor) }] : []),
    ...(lot.hammerMinor === lot.fellAtMinor ? [] : [{ words: standingWords(lot), amount: show(lot.hammerMinor) }]),
    { words: `of which for the cause, ${lot.shareBp / 100} %`, amount: show(lot.causeMinor) },
    { words: 'Postage', amount: show(lot.postageMinor) },
    { words: 'Received so far', amount: show(lot.receivedMinor) },
    { words: 'To pay', amount: show(lot.owedMinor), isSum: true },
  ]
  return (
    <div className="page narrow stack">
      <h1>{headline(lot, currency)}</h1>
      <Tag code={`Lot ${lot.number} · ${lot.unit}`} href={`/lots/${lot.number}`}>
        <p>{lot.title}</p>
        <p className="small">
          {lot.buyer}
          {lot.paddle !== null && `, paddle ${lot.paddle}`}
        </p>
        <p>
          <CreditorReference reference={lot.reference} />
        </p>
        {lot.state !== 'fell through' && (
          <p className="small">
            <a href={`/lots/${lot.number}/invoice.pdf`}>Invoice (PDF)</a>
          </p>
        )}
      </Tag>
      {owedBack.map((item) => (
        <Notice key={item.entryId} tone="doubt" title={`${show(item.leftMinor)} is unallocated`}>
          <p>
            {item.memo}. <Link href="/bench/money/in">Allocate or refund it</Link>
          </p>
        </Notice>
      ))}
      <SumLines lines={lines} />
      {rounded && <p className="small quiet">{rounded}</p>}
      {desk && (
        <section className="sheet stack" aria-labelledby="fixed-price">
          <h2 id="fixed-price">At a fixed price</h2>
          <FixedPriceDesk desk={desk} />
        </section>
      )}
      {books.mayWrite && lot.state !== 'fell through' && (
        <>
          <section className="sheet act stack" aria-labelledby="pay">
            <h2 id="pay">{lot.owedMinor > 0 ? 'Money came in' : 'More money came in'}</h2>
            <PaymentForm lot={lot.number} currency={currency} owed={owedOf(lot, currency)} reference={lot.reference} />
          </section>
          <section className="sheet stack" aria-labelledby="postage">
            <h2 id="postage">Postage</h2>
            <PostageForm lot={lot.number} currency={currency} postage={plainMoney(lot.postageMinor, currency)} />
          </section>
          <section className="sheet stack" aria-labelledby="wrong">
            <h2 id="wrong">When it went wrong</h2>
            <div className="row">
              {lot.receivedMinor > 0 && <WentBackButton lot={lot} currency={currency} />}
              <ReduceButton lot={lot} currency={currency} />
              <FallThroughButton lot={lot} currency={currency} />
            </div>
          </section>
        </>
      )}
      {reliefs.map((relief) => (
        <ReliefNote key={relief.country} relief={relief} />
      ))}
    </div>
  )
}

const standingWords = ({ by, state }: SoldLot): string =>
  by === 'fixed price' && state !== 'fell through' ? 'Fixed price' : 'Price as it stands now'

function headline({ number, state, owedMinor }: SoldLot, currency: Currency): string {
  if (state === 'fell through') return `The sale of lot ${number} fell through`
  return owedMinor > 0 ? `Lot ${number} has ${showMoney(owedMinor, currency)} to pay` : `Lot ${number} is paid`
}

const owedOf = (lot: SoldLot, currency: Currency): string => (lot.owedMinor > 0 ? plainMoney(lot.owedMinor, currency) : '')
