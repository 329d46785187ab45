import { Chip } from '#app/_ui/chip.tsx'
import { Money } from '#app/_ui/money.tsx'
import type { ForecastFrame } from '#money/forecast/forecast.contract'
import styles from './forecast.module.css'
import { roundly, sayBasis, sayChance } from './forecast.rules'

/** Each lot's part in the forecast, and the picture as figures. */
export function ForecastTable({ found }: { found: ForecastFrame }) {
  const { currency, lots, bars } = found
  const sum = (key: 'leastMinor' | 'meanMinor' | 'mostMinor') => lots.reduce((total, lot) => total + lot[key], 0)
  let below = 0
  const steps = bars.flatMap(({ toMinor, chance }, index) => {
    below += chance
    return index % 6 === 5 || index === bars.length - 1 ? [{ toMinor, below: Math.min(1, below) }] : []
  })
  return (
    <details>
      <summary>Lot by lot, and the picture as a table</summary>
      <div className={styles.tables}>
        <table className="cards">
          <caption>What each lot may bring for the cause, {currency}, and the chance of the target if it went so</caption>
          <thead>
            <tr>
              <th scope="col">Lot</th>
              <th scope="col">Based on</th>
              <th scope="col" className="num">
                Least
              </th>
              <th scope="col" className="num">
                Expected
              </th>
              <th scope="col" className="num">
                Most
              </th>
              <th scope="col" className="num">
                Chance at its least
              </th>
              <th scope="col" className="num">
                Chance at its most
              </th>
              <th scope="col" className="num">
                Part of doubt
              </th>
            </tr>
          </thead>
          <tbody>
            {lots.map((lot) => (
              <tr key={lot.number}>
                <th scope="row">
                  Lot {lot.number} {lot.isGuess && <Chip tone="doubt">Guess</Chip>}
                  <div className="small quiet">{lot.title}</div>
                </th>
                <td data-label="Based on">{sayBasis(lot)}</td>
                {(['leastMinor', 'meanMinor', 'mostMinor'] as const).map((key) => (
                  <td key={key} data-label={{ leastMinor: 'Least', meanMinor: 'Expected', mostMinor: 'Most' }[key]} className="num">
                    <Money minor={lot[key]} currency={currency} />
                  </td>
                ))}
                <td data-label="Chance at its least" className="num">
                  {sayChance(lot.chanceAtLeast)}
                </td>
                <td data-label="Chance at its most" className="num">
                  {sayChance(lot.chanceAtMost)}
                </td>
                <td data-label="Part of doubt" className="num">
                  {Math.round(lot.part * 100)} %
                </td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row" colSpan={2}>
                Still to come
              </th>
              {(['leastMinor', 'meanMinor', 'mostMinor'] as const).map((key) => (
                <td key={key} data-label={{ leastMinor: 'Least', meanMinor: 'Expected', mostMinor: 'Most' }[key]} className="num">
                  <Money minor={sum(key)} currency={currency} />
                </td>
              ))}
              <td colSpan={3} />
            </tr>
          </tfoot>
        </table>
        <table>
          <caption>The final total</caption>
          <thead>
            <tr>
              <th scope="col">At most</th>
              <th scope="col" className="num">
                With
              </th>
            </tr>
          </thead>
          <tbody>
            {steps.map(({ toMinor, below: chance }) => (
              <tr key={toMinor}>
                <th scope="row" className="num">
                  {roundly(toMinor, currency)}
                </th>
                <td className="num">{sayChance(chance)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}
