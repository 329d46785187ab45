import type { LotPage } from '#floor/lot-page/lot-page.service'
import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'

const SELLERS: Record<string, string> = { private: 'a private person', trader: 'a trader', charity: 'the charity itself' }

const sayCountries = (codes: readonly string[]): string => (codes.includes('*') ? 'everywhere else' : codes.map(countryName).join(', '))

/** The terms of this lot: who benefits, who sells, where it can go, how the sale can be cancelled. */
export function TermsPart({ page }: { page: LotPage }) {
  const { cause, seller, postage, card, sizeMm, weightGrams } = page
  return (
    <section className="sheet stack" aria-labelledby="terms-title">
      <h2 id="terms-title">Terms</h2>
      <p className="small quiet">{page.areTermsFixed ? 'Fixed when the lot opened.' : 'They are fixed when the lot opens.'}</p>
      <p>
        {cause.name || 'Who benefits is not named yet'} {cause.registration && `(${cause.registration}) `}receives {cause.shareBp / 100} %
        of the hammer price
        {seller.name && `; the seller is ${seller.name}${SELLERS[seller.kind] ? `, ${SELLERS[seller.kind]}` : ''}`}.
      </p>
      {postage.length > 0 && <h3>Where it can be sent</h3>}
      {postage.length > 0 && (
        <table className="cards">
          <caption className="visually-hidden">Where it can be sent and for how much</caption>
          <thead>
            <tr>
              <th scope="col">How</th>
              <th scope="col">To</th>
              <th scope="col" className="num">
                Postage
              </th>
            </tr>
          </thead>
          <tbody>
            {postage.map(({ zone, countries, amountMinor }) => (
              <tr key={zone}>
                <th scope="row">{zone}</th>
                <td data-label="To">{sayCountries(countries)}</td>
                <td data-label="Postage" className="num">
                  {showMoney(amountMinor, card.currency)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {weightGrams !== null && sizeMm && (
        <p>
          Packed: {(weightGrams / 1000).toFixed(1)} kg, {sizeMm.join(' × ')} mm.
        </p>
      )}
      {page.cancelWords && (
        <p>
          <b>Cancelling.</b> {page.cancelWords}
        </p>
      )}
      <p className="small quiet">
        A machine made by hand from donated parts. The law where you live on electrical goods, imports and cancelling comes first; ask
        locally if you are in doubt.
      </p>
    </section>
  )
}
