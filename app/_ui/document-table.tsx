import { type Currency, showMoney } from '#kernel/money'
import { documentTitle } from '#money/documents/document-words.rules'
import type { DocumentView } from '#money/documents/documents.contract'
import { longDay } from '#money/invoices/words.rules'

export interface DocumentTableProps {
  documents: readonly DocumentView[]
  currency: Currency
  /** For those who keep the books: to whom each was made out, and the digest of its sheet. */
  isForBooks?: boolean
}

/** Invoices and what changed them, in the order of their numbers; each leads to its sheet. */
export function DocumentTable({ documents, currency, isForBooks = false }: DocumentTableProps) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Issued so far, {currency}</caption>
        <thead>
          <tr>
            <th scope="col">Document</th>
            <th scope="col">Issued</th>
            {isForBooks && <th scope="col">Made out to</th>}
            <th scope="col">Lots</th>
            <th scope="col" className="num">
              Amount
            </th>
            <th scope="col" className="num">
              Changes by
            </th>
            {isForBooks && <th scope="col">SHA-256 of the sheet</th>}
          </tr>
        </thead>
        <tbody>
          {documents.map((one) => (
            <tr key={one.number}>
              <th scope="row">
                <a href={`/lots/${one.lots[0] ?? ''}/invoices/${one.number}.pdf`}>
                  {documentTitle({ ...one, about: one.about === null ? null : { number: one.about, issuedOn: '' } })}
                </a>
                {one.why !== '' && <div className="small quiet">{one.why}</div>}
              </th>
              <td data-label="Issued">{longDay(one.issuedOn)}</td>
              {isForBooks && <td data-label="Made out to">{one.buyer}</td>}
              <td data-label="Lots">{one.lots.join(', ')}</td>
              <td data-label="Amount" className="num">
                {showMoney(one.grossMinor, currency)}
              </td>
              <td data-label="Changes by" className="num">
                {one.changeMinor > 0 && '+'}
                {showMoney(one.changeMinor, currency)}
              </td>
              {isForBooks && (
                <td data-label="SHA-256 of the sheet">
                  {one.sha256 === null ? (
                    <span className="quiet">being set</span>
                  ) : (
                    <span className="code small" title={one.sha256}>
                      {one.sha256.slice(0, 16)}…
                    </span>
                  )}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
