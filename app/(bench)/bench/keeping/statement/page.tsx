import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import { Lines } from '#app/(bench)/bench/money/lines.tsx'
import type { AccountPart } from '#end/keeping/account.contract'
import { LOT_HEADS, type LotTable, lotTable, otherParts, summaryOf } from '#end/keeping/statement-words.rules'
import type { Currency } from '#kernel/money'
import { showMoney } from '#kernel/money'
import { shortHead } from '#sale/bidding/checkpoint.rules'
import { insteadOf } from '../for-whom'
import styles from '../keeping.module.css'

export const metadata: Metadata = { title: 'Statement for the cause' }

/** The account given to the cause, with every line behind every sum, and as a paper. */
export default async function StatementPage() {
  const instead = await insteadOf('Statement for the cause', ['maker', 'treasurer'])
  if (instead) return instead
  const account = await (await api()).keeping.account()
  if (!account) return null
  const { currency, parts, varianceAt, varianceMinor, head } = account
  const show = (minor: number) => showMoney(minor, currency)
  const lots = lotTable(parts)
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>Statement for {account.causeName || 'the cause'}</h1>
        {account.causeRegistration && <p className="quiet">Registered as {account.causeRegistration}</p>}
        <p className="row">
          <a className="button" href="/bench/keeping/statement.pdf">
            PDF, A4
          </a>
          <a className="button-line" href="/bench/keeping/statement.pdf?paper=letter">
            PDF, Letter
          </a>
          <a className="button-line" href="/bench/keeping/statement.csv" download>
            CSV
          </a>
        </p>
      </header>
      <section className="sheet stack" aria-labelledby="in-all">
        <h2 id="in-all">In all</h2>
        <Lines
          lines={[
            ...summaryOf(account).map(([words, minor]) => ({ words, amount: show(minor) })),
            { words: 'Variance', amount: show(varianceMinor), isSum: true },
          ]}
        />
        {varianceAt.length === 0 ? (
          <p className="small quiet">
            Every entry balances, every lot agrees with its signed history, and each part below adds up to what the books say.
          </p>
        ) : (
          <Notice tone="bad" title="It does not come out">
            <ul>
              {varianceAt.map(({ words }) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </Notice>
        )}
        <p className="small quiet">
          As of <When at={account.drawnAt} zone={account.zone} />, from a journal of {head.entries} entries
          {head.digest !== '' && (
            <>
              {' '}
              with the head <span className={styles.digest}>{shortHead(head.digest)}</span>
            </>
          )}
          . Names of donors and buyers are no part of it.
        </p>
      </section>
      <div className={styles.parts}>
        {lots && <Lots table={lots} currency={currency} />}
        {otherParts(parts).map((part) => (
          <Part key={part.key} part={part} currency={currency} />
        ))}
      </div>
    </div>
  )
}

function Lots({ table, currency }: { table: LotTable; currency: Currency }) {
  return (
    <div className={styles.scroll}>
      <table className="cards">
        <caption>Lots, {currency}</caption>
        <thead>
          <tr>
            <th scope="col">Lot</th>
            <th scope="col">Reference</th>
            {LOT_HEADS.map((head) => (
              <th key={head} scope="col" className="num">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map(({ lot, unit, reference, minors }) => (
            <tr key={lot}>
              <th scope="row">
                Lot {lot} <span className="code">{unit}</span>
              </th>
              <td data-label="Reference" className={styles.digest}>
                {reference}
              </td>
              <Amounts minors={minors} currency={currency} />
            </tr>
          ))}
          <tr className={styles.total}>
            <th scope="row">Together</th>
            <td />
            <Amounts minors={table.totals} currency={currency} />
          </tr>
        </tbody>
      </table>
    </div>
  )
}

const Amounts = ({ minors, currency }: { minors: readonly number[]; currency: Currency }) =>
  LOT_HEADS.map((head, index) => (
    <td key={head} data-label={head} className="num">
      {showMoney(minors[index] ?? 0, currency)}
    </td>
  ))

function Part({ part, currency }: { part: AccountPart; currency: Currency }) {
  const hasLots = part.lines.some(({ lot }) => lot !== null)
  const hasPaper = part.lines.some(({ day, reference }) => day !== '' || reference !== '')
  return (
    <div className={styles.scroll}>
      <table className="cards">
        <caption>
          {part.title}, {currency}
        </caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            {hasLots && (
              <th scope="col" className="num">
                Lot
              </th>
            )}
            {hasPaper && <th scope="col">Day</th>}
            {hasPaper && <th scope="col">Reference</th>}
            <th scope="col" className="num">
              Amount
            </th>
          </tr>
        </thead>
        <tbody>
          {part.lines.map(({ what, lot, day, reference, minor }, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: lines of a part have no name but their place in it.
            <tr key={index}>
              <th scope="row">{what}</th>
              {hasLots && (
                <td data-label="Lot" className="num">
                  {lot}
                </td>
              )}
              {hasPaper && <td data-label="Day">{day}</td>}
              {hasPaper && (
                <td data-label="Reference" className={styles.digest}>
                  {reference}
                </td>
              )}
              <td data-label="Amount" className="num">
                {showMoney(minor, currency)}
              </td>
            </tr>
          ))}
          <tr className={styles.total}>
            <th scope="row">Together</th>
            {hasLots && <td />}
            {hasPaper && <td />}
            {hasPaper && <td />}
            <td data-label="Amount" className="num">
              {showMoney(part.totalMinor, currency)}
            </td>
          </tr>
        </tbody>
      </table>
    </div>
  )
}
