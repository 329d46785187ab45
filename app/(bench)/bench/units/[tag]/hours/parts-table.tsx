import Link from 'next/link'
import { Bar, Key, longest } from '#app/_ui/bars/bar.tsx'
import { Unbroken } from '#app/_ui/unbroken.tsx'
import type { MachineSpent } from '#bench/spent/spent.contract'
import { showMoney } from '#kernel/money'

/** The parts of a machine at what they would cost to buy again, what was given and what was bought apart. */
export function PartsTable({ spent }: { spent: MachineSpent }) {
  const { lines, givenMinor, boughtMinor, unpriced, takenOut, currency } = spent
  const show = (minor: number) => showMoney(minor, currency)
  return (
    <section className="sheet stack" aria-labelledby="parts">
      <h2 id="parts">{show(givenMinor + boughtMinor)} of parts, at replacement price</h2>
      <Key parts={[['gift', `given, ${show(givenMinor)}`] as const, ['cost', `bought, ${show(boughtMinor)}`] as const]} />
      <Bar
        of={longest([givenMinor + boughtMinor])}
        parts={[
          ['gift', givenMinor],
          ['cost', boughtMinor],
        ]}
      />
      <p className="small">
        {show(givenMinor)} was given and {show(boughtMinor)} bought.
        {unpriced > 0 &&
          ` ${unpriced === 1 ? 'One piece has' : `${unpriced} pieces have`} no price yet and ${unpriced === 1 ? 'is' : 'are'} left out.`}
        {takenOut > 0 && ` ${takenOut === 1 ? 'One piece was' : `${takenOut} pieces were`} taken out again and not counted.`}
      </p>
      {lines.length > 0 && (
        <table>
          <caption className="visually-hidden">Parts of {spent.tag}</caption>
          <thead>
            <tr>
              <th scope="col">Part</th>
              <th scope="col" className="num">
                Together
              </th>
            </tr>
          </thead>
          <tbody>
            {lines.map(({ partId, words, isGift, count, price, minor }) => (
              <tr key={`${partId} ${isGift} ${price?.minor} ${price?.pieces}`}>
                <th scope="row">
                  <Link prefetch={false} href={`/bench/parts/${partId}#price`}>
                    <Unbroken>{words}</Unbroken>
                  </Link>
                  <div className="small quiet">
                    {count} {isGift ? 'given' : 'bought'}
                    {price !== null && `, at ${show(price.minor)} ${price.pieces === 1 ? 'each' : `for ${price.pieces}`}`}
                  </div>
                </th>
                <td className="num">{minor === null ? <span className="quiet">no price yet</span> : show(minor)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}
