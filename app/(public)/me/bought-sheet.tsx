import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { showMoney } from '#kernel/money'
import type { MySale } from '#money/invoices/invoices.contract'

/** A lot that somebody bought without a bid of their own, and whether it is still theirs. */
export function BoughtSheet({ sale }: { sale: MySale }) {
  const tone = sale.stands ? ('ok' as const) : ('bad' as const)
  return (
    <Tag
      code={`Lot ${sale.lot} · ${sale.unit}`}
      href={`/lots/${sale.lot}`}
      aside={<Chip tone={tone}>{sale.stands ? 'Bought' : 'Fell through'}</Chip>}
    >
      <div className="stack close">
        <h2>{sale.title}</h2>
        <SaleWords sale={sale} />
      </div>
    </Tag>
  )
}

/** What became of a sale, and where it goes on. */
export function SaleWords({ sale }: { sale: MySale }) {
  if (!sale.stands) return <p>The sale fell through. You owe nothing for it; anything you paid for it is owed back to you.</p>
  const show = (minor: number) => showMoney(minor, sale.currency)
  return (
    <p>
      It comes to {show(sale.priceMinor + sale.postageMinor)}, with {show(sale.postageMinor)} postage.{' '}
      <Link prefetch={false} className="alone" href={`/me/won/${sale.lot}`}>
        Payment, address and parcel
      </Link>
    </p>
  )
}
