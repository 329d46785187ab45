import { type Currency, showMoney } from '#kernel/money'
import type { JournalLine } from '#money/books/books.contract'
import { ACCOUNT_WORDS } from '#money/books/ledger.rules'
import { CorrectButton } from './correct-button'
import styles from './journal-table.module.css'

/** Every entry with its lines, newest first. Nothing is ever changed: what was wrong is taken back by another entry. */
export function JournalTable({ journal, currency, mayWrite }: { journal: readonly JournalLine[]; currency: Currency; mayWrite: boolean }) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Journal, newest first. The lines of each entry add up to zero.</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" className="num">
              Day
            </th>
            <th scope="col">By</th>
            <th scope="col">Lines, {currency}</th>
            <th scope="col">
              <span className="visually-hidden">Take it back</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {[...journal].reverse().map((entry) => (
            <tr key={entry.id}>
              <th scope="row">
                <span id={entry.id} className={entry.correctedBy ? styles.undone : undefined}>
                  {entry.memo}
                </span>
                {entry.correctedBy && (
                  <div className="small">
                    <a href={`#${entry.correctedBy.id}`}>Reversed by a later entry</a>
                  </div>
                )}
                {entry.corrects && (
                  <div className="small">
                    <a href={`#${entry.corrects.id}`}>Reverses: {entry.corrects.memo}</a>
                  </div>
                )}
                {entry.reference && <div className="small quiet">{entry.reference}</div>}
              </th>
              <td data-label="Day" className="num">
                {entry.valueOn}
              </td>
              <td data-label="By">{entry.by ?? 'the house'}</td>
              <td>
                <ul className={styles.lines}>
                  {entry.postings.map(({ account, amountMinor }) => (
                    <li key={account}>
                      <span>{ACCOUNT_WORDS[account]}</span>
                      <span className="num">{showMoney(amountMinor, currency)}</span>
                    </li>
                  ))}
                </ul>
              </td>
              <td>
                {mayWrite && !entry.correctedBy && !entry.corrects && entry.kind !== 'hammer' && entry.kind !== 'resale' && (
                  <CorrectButton entry={entry} />
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
