import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import { AnswerForm } from './answer-form'

export const metadata: Metadata = { title: 'Offers to you' }

/** A lot whose first sale fell through, offered to whoever came next: what it says, until when, yes or no. */
export default async function OffersPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person) redirect('/sign-in?next=/me/offers')
  const offers = await caller.invoices.myOffers()
  return (
    <div className="page narrow stack">
      <Crumbs trail={[{ href: '/me', label: 'My bids' }]} />
      <h1>Offers to you</h1>
      {offers.length === 0 && (
        <EmptyState title="Nothing has been offered to you.">
          <p>When a sale falls through, its lot may be offered to the next highest bidder.</p>
        </EmptyState>
      )}
      {offers.map((offer) => {
        const show = (minor: number) => showMoney(minor, offer.currency)
        const isOpen = offer.answer === null && !offer.isOver
        const said = offer.answer ?? (offer.isOver ? 'over' : 'open')
        return (
          <Tag
            key={offer.id}
            code={`Lot ${offer.lot} · ${offer.terms.unit}`}
            href={`/lots/${offer.lot}`}
            tone={isOpen ? 'copper' : 'plain'}
            aside={
              <Chip tone={isOpen ? 'copper' : offer.answer === 'accepted' ? 'ok' : 'plain'}>
                {said.charAt(0).toUpperCase() + said.slice(1)}
              </Chip>
            }
          >
            <div className="stack close">
              <h2>{offer.terms.title}</h2>
              <p>
                The first sale was not completed, and you were the next highest bidder. It is yours for <b>{show(offer.priceMinor)}</b>,
                your own highest bid, with {show(offer.postageMinor)} postage to {countryName(offer.terms.country)}:{' '}
                {show(offer.priceMinor + offer.postageMinor)} in all.
              </p>
              <p className="small">
                This is a new contract, with {offer.terms.seller};{' '}
                {offer.terms.shareBp === 10_000 ? 'the whole price' : `${offer.terms.shareBp / 100} % of it`} goes to {offer.terms.cause}.
                Pay within {offer.terms.dueDays} days of your answer.{' '}
                {offer.terms.cancelWords !== '' && `If you need to cancel: ${offer.terms.cancelWords}`}
              </p>
              {isOpen && (
                <>
                  <p>
                    Open until <When at={offer.openUntil} zone={offer.zone} />. If you do nothing it lapses and costs you nothing.
                  </p>
                  <AnswerForm
                    offerId={offer.id}
                    lot={offer.lot}
                    together={show(offer.priceMinor + offer.postageMinor)}
                    dueDays={offer.terms.dueDays}
                  />
                </>
              )}
            </div>
          </Tag>
        )
      })}
    </div>
  )
}
