import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { plainMoney, showMoney } from '../../../../../server/kernel/money'
import { showCreditorReference } from '../../../../../server/money/creditor-reference.rules'
import { api } from '../../../../_trpc/server'
import { Crumbs } from '../../../../_ui/crumbs'
import { Tag } from '../../../../_ui/tag'
import styles from '../money.module.css'
import { PaymentForm } from './payment-form'
import { PostageForm } from './postage-form'

export const metadata: Metadata = { title: 'Mark it paid' }

export default async function LotMoneyPage({ params }: { params: Promise<{ lot: string }> }) {
  const { lot: number } = await params
  const books = await (await api()).money.books()
  const lot = books?.statement.lots.find((each) => String(each.number) === number)
  if (!books || !lot) notFound()
  const { currency } = books.meter
  const show = (minor: number) => showMoney(minor, currency)
  const lines: [string, string][] = [
    ['Hammer price', show(lot.hammerMinor)],
    ['of it for the cause', show(lot.causeMinor)],
    ['Postage', show(lot.postageMinor)],
    ['Received so far', show(lot.receivedMinor)],
  ]
  return (
    <div className="page narrow stack">
      <Crumbs trail={[{ href: '/bench/money', label: 'Money' }]} />
      <h1>{lot.owedMinor > 0 ? `Lot ${lot.number} has ${show(lot.owedMinor)} to pay` : `Lot ${lot.number} is paid`}</h1>
      <Tag code={`Lot ${lot.number} · ${lot.unit}`} href={`/lots/${lot.number}`}>
        <p>{lot.title}</p>
        <p className="small">
          {lot.buyer}
          {lot.paddle !== null && `, paddle ${lot.paddle}`}
        </p>
        <p className={styles.reference}>{showCreditorReference(lot.reference)}</p>
        <p className="small">
          <a href={`/lots/${lot.number}/invoice.pdf`}>Invoice (PDF)</a>
        </p>
      </Tag>
      <dl className={styles.sums}>
        {lines.map(([words, amount]) => (
          <Line key={words} words={words} amount={amount} />
        ))}
        <dt className={styles.sum}>To pay</dt>
        <dd className={styles.sum}>{show(lot.owedMinor)}</dd>
      </dl>
      {books.mayWrite && lot.owedMinor > 0 && (
        <section className="sheet act stack" aria-labelledby="pay">
          <h2 id="pay">Money came in</h2>
          <PaymentForm lot={lot.number} currency={currency} owed={plainMoney(lot.owedMinor, currency)} reference={lot.reference} />
        </section>
      )}
      {books.mayWrite && (
        <section className="sheet stack" aria-labelledby="postage">
          <h2 id="postage">Postage</h2>
          <PostageForm lot={lot.number} currency={currency} postage={plainMoney(lot.postageMinor, currency)} />
        </section>
      )}
      <p>
        <Link prefetch={false} href="/bench/money">
          All the money
        </Link>
      </p>
    </div>
  )
}

function Line({ words, amount }: { words: string; amount: string }) {
  return (
    <>
      <dt>{words}</dt>
      <dd>{amount}</dd>
    </>
  )
}
