import Link from 'next/link'
import { Money } from '#app/_ui/money.tsx'
import { lotsInWords } from '#money/journal/lot-words.rules'
import type { PostageAccount } from '#money/sending/sending.contract'

/** What buyers were charged for postage beside what it really cost, parcel by parcel and together. */
export function PostageTable({ postage }: { postage: PostageAccount }) {
  const { currency, parcels, otherMinor, chargedMinor, costMinor } = postage
  const without = parcels.filter((one) => one.costMinor === null).length
  const money = (minor: number) => <Money minor={minor} currency={currency} />
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Postage: what was charged and what it cost, {currency}</caption>
        <thead>
          <tr>
            <th scope="col">Parcel</th>
            <th scope="col" className="num">
              Charged
            </th>
            <th scope="col" className="num">
              Cost
            </th>
            <th scope="col" className="num">
              Left of it
            </th>
          </tr>
        </thead>
        <tbody>
          {parcels.map(({ lots, sentAt, chargedMinor: charged, costMinor: cost }) => (
            <tr key={lots[0]}>
              <th scope="row">
                <Link prefetch={false} href={`/bench/sending/${lots[0]}`}>
                  {lotsInWords(lots).replace('l', 'L')}
                </Link>
                {sentAt === null && <div className="small quiet">not sent yet</div>}
              </th>
              <td data-label="Charged" className="num">
                {money(charged)}
              </td>
              <td data-label="Cost" className="num">
                {cost === null ? 'not entered' : money(cost)}
              </td>
              <td data-label="Left of it" className="num">
                {cost === null ? '' : money(charged - cost)}
              </td>
            </tr>
          ))}
          {otherMinor !== 0 && (
            <tr>
              <th scope="row">For no single parcel</th>
              <td />
              <td data-label="Cost" className="num">
                {money(otherMinor)}
              </td>
              <td data-label="Left of it" className="num">
                {money(-otherMinor)}
              </td>
            </tr>
          )}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">Together</th>
            <td data-label="Charged" className="num">
              {money(chargedMinor)}
            </td>
            <td data-label="Cost" className="num">
              {money(costMinor)}
            </td>
            <td data-label="Left of it" className="num">
              {without === 0 ? money(chargedMinor - costMinor) : `${without} not entered`}
            </td>
          </tr>
        </tfoot>
      </table>
    </div>
  )
}
