import type { DonorPage } from '#gifts/outcome/donor-page.service'
import { listWords } from '#stock/donors/gift.rules'
import { ThanksForm } from './thanks-form'

interface Whom {
  id: string
  contact: string
}

/** The first thanks, for what has come. */
export function ThanksDue({ donor, thanks }: { donor: Whom; thanks: NonNullable<DonorPage['thanks']> }) {
  return (
    <section className="sheet act stack" aria-labelledby="thanks">
      <h2 id="thanks">Thanks are due for what came</h2>
      <ThanksForm donorId={donor.id} giftIds={thanks.giftIds} draft={thanks.draft} hasMail={donor.contact !== ''} />
    </section>
  )
}

/** The second, for what has been sold, or to put an earlier one right. It waits for lots that are open. */
export function SoldThanksDue({ donor, thanks }: { donor: Whom; thanks: NonNullable<DonorPage['soldThanks']> }) {
  const { lots, putRight, stillToEnd, waitsFor, draft } = thanks
  return (
    <section className="sheet act stack" aria-labelledby="sold-thanks">
      <h2 id="sold-thanks">
        {lots.length === 0
          ? 'What we told them is so no longer'
          : `${lots.length === 1 ? `Lot ${lots[0]} has` : `Lots ${listWords(lots.map(String), 'and')} have`} sold, with their gifts`}
      </h2>
      {putRight.length > 0 && (
        <p className="small">
          Since our last letter, a sale fell through or a price was changed:{' '}
          {listWords(
            putRight.map((number) => `lot ${number}`),
            'and',
          )}
          . The letter below says so.
        </p>
      )}
      {stillToEnd.length > 0 && (
        <p className="small">
          Lots with their gifts that are still to end:{' '}
          {listWords(
            stillToEnd.map((number) => `lot ${number}`),
            'and',
          )}
          . {waitsFor ?? `The letter may wait for ${stillToEnd.length === 1 ? 'it' : 'them'}.`}
        </p>
      )}
      <ThanksForm donorId={donor.id} giftIds={null} draft={draft} hasMail={donor.contact !== ''} />
    </section>
  )
}
