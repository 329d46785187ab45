import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import type { Currency } from '#kernel/money'
import type { Goals } from '../only-for'
import { GiftForm } from './gift-form'

/** What is promised, and help, money and postage, which come in no parcel. */
export async function NewGift({ donorId, currency, goals }: { donorId: string; currency: Currency | null; goals: Goals }) {
  const parts = await (await api()).parts.list()
  return (
    <section className="sheet stack" aria-labelledby="new-gift">
      <h2 id="new-gift">A promise, or help without a parcel</h2>
      <p className="small quiet">
        What comes in a parcel is logged <Link href="/bench/parcels/new">as a parcel</Link>.
      </p>
      <GiftForm donorId={donorId} parts={parts.map(({ id, words }) => ({ id, words }))} currency={currency} goals={goals} />
    </section>
  )
}
