import { Chip } from '#app/_ui/chip.tsx'
import { SumLines } from '#app/_ui/sum-lines.tsx'
import { type Currency, showMoney } from '#kernel/money'
import type { ReconciledView } from '#money/bank/bank.contract'
import { longDay } from '#money/invoices/words.rules'
import { BalancesForm } from './balances-form'

export interface ReconciledProps {
  reconciled: readonly ReconciledView[]
  currency: Currency
  mayWrite: boolean
}

/** The books against what the bank says was on the account; “agrees” only where every line and every entry has the other. */
export function Reconciled({ reconciled, currency, mayWrite }: ReconciledProps) {
  return (
    <section className="stack" aria-labelledby="reconciled">
      <h2 id="reconciled">Against the bank</h2>
      {reconciled.length === 0 && (
        <p className="quiet">
          Nothing can be said yet: no opening and closing balance of the bank are known. Enter them, or import a statement in camt.053.
        </p>
      )}
      {reconciled.map((one) => (
        <Against key={`${one.balances.account} ${one.balances.closesOn} ${one.balances.closingMinor}`} one={one} currency={currency} />
      ))}
      {mayWrite && (
        <details className="sheet">
          <summary>Enter the bank’s balances</summary>
          <BalancesForm currency={currency} />
        </details>
      )}
    </section>
  )
}

function Against({ one, currency }: { one: ReconciledView; currency: Currency }) {
  const show = (minor: number) => showMoney(minor, currency)
  const { balances, linesMinor, setAsideMinor, missingMinor, linesWithoutEntry, entriesWithoutLine, agrees, file } = one
  return (
    <div className="sheet stack close">
      <div className="row apart">
        <h3>
          {longDay(balances.opensOn)} to {longDay(balances.closesOn)}
        </h3>
        <Chip tone={agrees ? 'ok' : 'doubt'}>{agrees ? 'Agrees' : 'Open'}</Chip>
      </div>
      <p>
        {agrees
          ? `The books agree with the bank on ${longDay(balances.closesOn)}: every line has its entry, and every entry its line.`
          : 'The books do not agree with the bank yet.'}{' '}
        {balances.account !== '' && <span className="quiet">Account {balances.account}. </span>}
        {file !== '' && <span className="quiet">Balances from {file === 'pasted' ? 'a pasted statement' : file}.</span>}
      </p>
      <SumLines
        lines={[
          { words: 'Opening balance, as the bank says', amount: show(balances.openingMinor) },
          { words: 'Lines of these days', amount: show(linesMinor) },
          ...(setAsideMinor === 0 ? [] : [{ words: 'of which set aside: none of the campaign’s', amount: show(setAsideMinor) }]),
          ...(missingMinor === 0
            ? []
            : [{ words: missingMinor > 0 ? 'Missing lines come to' : 'Lines too many come to', amount: show(missingMinor) }]),
          { words: 'Closing balance, as the bank says', amount: show(balances.closingMinor), isSum: true },
        ]}
      />
      {linesWithoutEntry.length > 0 && (
        <Listed
          title="Lines without an entry"
          rows={linesWithoutEntry.map(({ id, on, amountMinor, words }) => ({
            id,
            words: `${on}, ${show(amountMinor)}: ${words || 'no words'}`,
          }))}
        />
      )}
      {entriesWithoutLine.length > 0 && (
        <Listed
          title="Entries without a line"
          rows={entriesWithoutLine.map(({ entryId, on, amountMinor, memo }) => ({
            id: entryId,
            words: `${on}, ${show(amountMinor)}: ${memo}`,
          }))}
        />
      )}
    </div>
  )
}

function Listed({ title, rows }: { title: string; rows: readonly { id: string; words: string }[] }) {
  return (
    <div>
      <h4>{title}</h4>
      <ul className="small">
        {rows.slice(0, 50).map(({ id, words }) => (
          <li key={id}>{words}</li>
        ))}
      </ul>
      {rows.length > 50 && <p className="small quiet">And {rows.length - 50} more.</p>}
    </div>
  )
}
