import { Notice } from '#app/_ui/notice.tsx'
import { SumLines } from '#app/_ui/sum-lines.tsx'
import { When } from '#app/_ui/when.tsx'
import type { Account } from '#end/statement/account.contract'
import { summaryOf } from '#end/statement/statement-words.rules'
import { showMoney } from '#kernel/money'
import { shortHead } from '#sale/history/short-head.rules'

/** The sums of the account, whether it comes out, and from which journal it was drawn. */
export function InAll({ account }: { account: Account }) {
  const { currency, varianceAt, varianceMinor, head } = account
  const show = (minor: number) => showMoney(minor, currency)
  return (
    <section className="sheet stack" aria-labelledby="in-all">
      <h2 id="in-all">In all</h2>
      <SumLines
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
        <Notice tone="bad" title="It does not balance">
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
            with the head <span className="digest">{shortHead(head.digest)}</span>
          </>
        )}
        . It contains no names of donors or buyers.
      </p>
    </section>
  )
}
