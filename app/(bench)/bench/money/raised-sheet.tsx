import { RaisedTable } from '#app/_ui/raised-table.tsx'
import type { Currency } from '#kernel/money'
import type { RaisedPart } from '#money/proceeds/raised-parts.rules'

const LEADS = { gifts: '/bench/money/journal?account=owed-to-cause&kind=gift', matched: '/bench/money/in#matched' } as const

/** What the meter is made of, each figure leading to the entries of the journal, or to the promises, that it comes from. */
export function RaisedSheet({ parts, currency }: { parts: readonly RaisedPart[]; currency: Currency }) {
  return (
    <details>
      <summary>What it is made of</summary>
      <RaisedTable
        rows={parts}
        currency={currency}
        columns={[
          ['Won', (row) => row.wonMinor],
          ['Paid', (row) => row.paidMinor],
          ['With the cause', (row) => row.remittedMinor],
        ]}
        href={({ of, lot, wonMinor, paidMinor, remittedMinor }) => {
          if (of !== 'lot') return LEADS[of]
          return wonMinor + paidMinor + remittedMinor > 0 ? `/bench/money/journal?account=owed-to-cause&lot=${lot}` : `/lots/${lot}`
        }}
      />
    </details>
  )
}
