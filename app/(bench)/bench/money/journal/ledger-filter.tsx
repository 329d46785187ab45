import { ACCOUNT_WORDS, KIND_WORDS } from '#money/books/ledger.rules'
import { ACCOUNTS, ENTRY_KINDS } from '#money/journal/journal.rules'
import styles from './journal-table.module.css'

interface LedgerFilterProps {
  account: string
  kind: string
  lot: number | null
  lots: readonly number[]
}

/** Which account, what, and of which lot; a form that needs no script. */
export function LedgerFilter({ account, kind, lot, lots }: LedgerFilterProps) {
  return (
    <form method="get" className={`row ${styles.filter}`} aria-label="Show one account">
      <label>
        Account
        <select name="account" defaultValue={account}>
          <option value="">All accounts</option>
          {ACCOUNTS.map((one) => (
            <option key={one} value={one}>
              {ACCOUNT_WORDS[one]}
            </option>
          ))}
        </select>
      </label>
      <label>
        What
        <select name="kind" defaultValue={kind}>
          <option value="">Everything</option>
          {ENTRY_KINDS.map((one) => (
            <option key={one} value={one}>
              {KIND_WORDS[one]}
            </option>
          ))}
        </select>
      </label>
      <label>
        Lot
        <select name="lot" defaultValue={lot === null ? '' : String(lot)}>
          <option value="">Every lot</option>
          {lots.map((one) => (
            <option key={one} value={one}>
              Lot {one}
            </option>
          ))}
        </select>
      </label>
      <button type="submit" className="button-line">
        Show
      </button>
    </form>
  )
}
