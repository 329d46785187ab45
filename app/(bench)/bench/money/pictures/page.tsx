import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { civilIn, sayDay, sayTime } from '#app/_ui/when.rules.ts'
import { type Minor, showMoney } from '#kernel/money'
import { Bar, Key } from './bar'
import styles from './pictures.module.css'

export const metadata: Metadata = { title: 'Where the money came from' }

/** Three tables whose bars are the picture: nothing is drawn that is not written beside it. */
export default async function PicturesPage() {
  const found = await (await api()).money.pictures()
  if (!found) notFound()
  const { currency, zone, machines, hours, batches, sharedCostMinor } = found
  const show = (minor: Minor) => showMoney(minor, currency)
  const mostOf = (sums: readonly Minor[]) => Math.max(1, ...sums)
  const machineTop = mostOf(machines.map(({ paidMinor, wonMinor }) => paidMinor + wonMinor))
  const hourTop = mostOf(hours.map(({ lotsMinor, giftMinor, matchedMinor }) => lotsMinor + giftMinor + matchedMinor))
  const batchTop = mostOf([...batches.flatMap(({ raisedMinor, costMinor }) => [raisedMinor, costMinor]), sharedCostMinor])
  const raised = batches.reduce((sum, { raisedMinor }) => sum + raisedMinor, 0)
  const spent = batches.reduce((sum, { costMinor }) => sum + costMinor, sharedCostMinor)
  if (machines.length === 0 && spent === 0) {
    return (
      <div className="page stack">
        <h1>Where the money came from</h1>
        <EmptyState title="Nothing has come in yet.">
          <p>The first hammer or the first gift draws the first bar.</p>
        </EmptyState>
      </div>
    )
  }
  return (
    <div className="page stack wide">
      <h1>Where the money came from</h1>
      <section className="stack close" aria-labelledby="machines">
        <h2 id="machines">By machine</h2>
        <Key parts={[['paid', 'paid'] as const, ['won', 'won, not yet paid'] as const]} />
        <table className={styles.bars}>
          <caption className="visually-hidden">For the cause, by machine, {currency}</caption>
          <thead className="visually-hidden">
            <tr>
              <th scope="col">From</th>
              <th scope="col">Bar</th>
              <th scope="col">For the cause</th>
            </tr>
          </thead>
          <tbody>
            {machines.map(({ words, lot, paidMinor, wonMinor }) => (
              <tr key={words}>
                <th scope="row">
                  {lot === null ? (
                    words
                  ) : (
                    <Link prefetch={false} href={`/bench/money/${lot}`}>
                      {words}
                    </Link>
                  )}
                </th>
                <td>
                  <Bar
                    of={machineTop}
                    parts={[
                      ['paid', paidMinor],
                      ['won', wonMinor],
                    ]}
                  />
                </td>
                <td className="num">
                  {show(paidMinor + wonMinor)}
                  {wonMinor > 0 && <div className="small quiet">{show(wonMinor)} unpaid</div>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <section className="stack close" aria-labelledby="hours">
        <h2 id="hours">By hour</h2>
        <Key parts={[['won', 'hammer prices'] as const, ['gift', 'gifts'] as const, ['matched', 'matched giving'] as const]} />
        <table className={styles.bars}>
          <caption className="visually-hidden">For the cause, by hour of the campaign’s clock, {currency}</caption>
          <thead className="visually-hidden">
            <tr>
              <th scope="col">Hour</th>
              <th scope="col">Bar</th>
              <th scope="col">For the cause</th>
            </tr>
          </thead>
          <tbody>
            {hours.map(({ fromAt, lotsMinor, giftMinor, matchedMinor }) => (
              <tr key={fromAt}>
                <th scope="row">
                  {sayTime(civilIn(fromAt, zone))} <span className="small quiet">{sayDay(civilIn(fromAt, zone))}</span>
                </th>
                <td>
                  <Bar
                    of={hourTop}
                    parts={[
                      ['won', lotsMinor],
                      ['gift', giftMinor],
                      ['matched', matchedMinor],
                    ]}
                  />
                </td>
                <td className="num">{show(lotsMinor + giftMinor + matchedMinor)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <section className="stack close" aria-labelledby="batches">
        <h2 id="batches">What the batches cost, and what they raised</h2>
        <p>
          {show(spent)} was spent and {show(raised)} raised at the hammer.
        </p>
        <Key parts={[['paid', 'raised at the hammer'] as const, ['cost', 'costs and fees'] as const]} />
        <table className={styles.bars}>
          <caption className="visually-hidden">Raised and spent, by batch of machines, {currency}</caption>
          <thead className="visually-hidden">
            <tr>
              <th scope="col">Batch</th>
              <th scope="col">Bars</th>
              <th scope="col">Raised, and spent</th>
            </tr>
          </thead>
          <tbody>
            {batches.map(({ run, design, sold, raisedMinor, costMinor }) => (
              <tr key={run}>
                <th scope="row">
                  <span className="code">{run}</span> {design}
                  <div className="small quiet">{sold === 0 ? 'none sold' : sold === 1 ? 'one sold' : `${sold} sold`}</div>
                </th>
                <td>
                  {raisedMinor > 0 && <Bar of={batchTop} parts={[['paid', raisedMinor]]} />}
                  {costMinor > 0 && <Bar of={batchTop} parts={[['cost', costMinor]]} />}
                </td>
                <td className="num">
                  <div>{show(raisedMinor)}</div>
                  <div>{show(costMinor)}</div>
                </td>
              </tr>
            ))}
            {sharedCostMinor > 0 && (
              <tr>
                <th scope="row">For all of them</th>
                <td>
                  <Bar of={batchTop} parts={[['cost', sharedCostMinor]]} />
                </td>
                <td className="num">{show(sharedCostMinor)}</td>
              </tr>
            )}
          </tbody>
        </table>
        <p className="small quiet">Parts and hours that were given have no price here.</p>
      </section>
    </div>
  )
}
