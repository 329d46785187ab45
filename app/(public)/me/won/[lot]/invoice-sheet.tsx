import { Chip } from '#app/_ui/chip.tsx'
import { CopyButton } from '#app/_ui/copy-button.tsx'
import { plainMoney, showMoney } from '#kernel/money'
import { bareIban, showIban } from '#money/invoices/iban.rules'
import type { InvoiceView } from '#money/invoices/invoices.contract'
import { longDay } from '#money/invoices/words.rules'
import type { SoldBy } from '#money/journal/sold.contract'
import styles from './won.module.css'

const PRICE_WORDS: Record<SoldBy, string> = {
  hammer: 'Hammer price',
  underbidder: 'Price by your own contract',
  'fixed price': 'Fixed price',
}

export interface InvoiceSheetProps {
  invoice: InvoiceView & { code: { size: number; path: string } | null }
}

/** What is owed, by when, and how to pay it: the code for a bank's program beside it where there is one. */
export function InvoiceSheet({ invoice }: InvoiceSheetProps) {
  const show = (minor: number) => showMoney(minor, invoice.currency)
  const share = invoice.shareBp === 10_000 ? 'The whole price goes' : `${invoice.shareBp / 100} % of the price goes`
  const lines: [string, number][] = [
    [PRICE_WORDS[invoice.by], invoice.hammerMinor],
    [invoice.country === '' ? 'Postage' : `Postage to ${invoice.country}`, invoice.postageMinor],
    ...(invoice.receivedMinor > 0 ? ([['Received so far', -invoice.receivedMinor]] satisfies [string, number][]) : []),
  ]
  const isOwed = invoice.owedMinor > 0
  const toPay = invoice.together?.owedMinor ?? invoice.owedMinor
  return (
    <section className={isOwed ? 'sheet act stack' : 'sheet stack'} aria-labelledby="invoice">
      <div className="row apart">
        <h2 id="invoice">{isOwed ? `${show(invoice.owedMinor)} to pay` : 'Paid in full'}</h2>
        <span className="row">
          <a className="alone" href={`/lots/${invoice.lot}/invoice.pdf`}>
            As PDF
          </a>
          <a className="alone" href="/me/invoices">
            Your invoices
          </a>
        </span>
      </div>
      {isOwed && (
        <p>
          By <b>{longDay(invoice.dueOn)}</b>{' '}
          {invoice.daysLate > 0 && <Chip tone="bad">{invoice.daysLate === 1 ? 'One day late' : `${invoice.daysLate} days late`}</Chip>}
        </p>
      )}
      <dl className={styles.sums}>
        {lines.map(([words, minor]) => (
          <Line key={words} words={words} amount={show(minor)} />
        ))}
      </dl>
      {isOwed && (
        <div className={styles.pay}>
          <dl className={styles.how}>
            <dt>Amount</dt>
            <dd>
              <span className="code">{show(toPay)}</span> <CopyButton text={plainMoney(toPay, invoice.currency)} what="the amount" />
              {invoice.together && <div className="small quiet">for lots {invoice.together.lots.join(', ')}, which you pay together</div>}
            </dd>
            <dt>Reference</dt>
            <dd>
              <span className="code several">{invoice.reference}</span> <CopyButton text={invoice.reference} what="the reference" />
            </dd>
            {invoice.account && (
              <>
                <dt>Account</dt>
                <dd>
                  {invoice.account.name} <CopyButton text={invoice.account.name} what="the name of the account" />
                </dd>
                <dt>IBAN</dt>
                <dd>
                  <span className="code several">{showIban(invoice.account.iban)}</span>{' '}
                  <CopyButton text={bareIban(invoice.account.iban)} what="the IBAN" />
                </dd>
                {invoice.account.bic !== '' && (
                  <>
                    <dt>BIC</dt>
                    <dd>
                      <span className="code">{invoice.account.bic}</span> <CopyButton text={invoice.account.bic} what="the BIC" />
                    </dd>
                  </>
                )}
              </>
            )}
            <dt>How to pay</dt>
            <dd>{invoice.howToPay || 'The seller will tell you how.'}</dd>
          </dl>
          {invoice.code && (
            <figure className={styles.code}>
              <svg viewBox={`0 0 ${invoice.code.size} ${invoice.code.size}`} role="img" aria-label="Payment code for your bank’s app">
                <rect width={invoice.code.size} height={invoice.code.size} fill="#fff" />
                <path d={invoice.code.path} fill="#000" shapeRendering="crispEdges" />
              </svg>
              <figcaption className="small quiet">Scan it with your bank’s app</figcaption>
            </figure>
          )}
        </div>
      )}
      <p className="small">
        {share} to {invoice.cause}
        {invoice.causeRegistration !== '' && `, registered ${invoice.causeRegistration}`}. Sold by {invoice.seller}.{' '}
        {invoice.estimate &&
          `Estimate published before bidding: ${show(invoice.estimate.lowMinor)} to ${show(invoice.estimate.highMinor)}.`}
      </p>
      <details className="small">
        <summary>Cancelling</summary>
        <p>{invoice.cancelWords || 'Ask the seller. You keep any rights that the law of your country gives you.'}</p>
      </details>
    </section>
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
