import type { Metadata } from 'next'
import Link from 'next/link'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Bar, Key, longest } from '#app/_ui/bars/bar.tsx'
import { BarTable } from '#app/_ui/bars/bar-table.tsx'
import { CAUSE_WORDS } from '#bench/faults/fault.contract'
import { sayMinutes } from '#bench/spent/minutes.rules'
import type { Lessons } from '#end/lessons/lessons.contract'
import { showMoney } from '#kernel/money'
import { insteadOf } from '../for-whom'

export const metadata: Metadata = { title: 'What it taught' }

const many = (count: number, one: string, more: string) => `${count} ${count === 1 ? one : more}`

/** What one campaign teaches the next; each bar has its figures beside it. Nothing of it is public. */
export default async function YearsPage({ searchParams }: { searchParams: Promise<{ of?: string | string[] }> }) {
  const instead = await insteadOf('What it taught', ['maker', 'treasurer'])
  if (instead) return instead
  const asked = (await searchParams).of
  const of = typeof asked === 'string' && /^[1-9]\d{0,5}$/.test(asked) ? Number(asked) : null
  const lessons = await (await api()).lessons.read({ of }).catch(orNotFound)
  if (!lessons) return null
  return (
    <div className="page stack wide">
      <h1>What it taught</h1>
      <p>
        {lessons.campaigns.length === 1
          ? 'So far there is one campaign, so nothing can be compared yet. What follows is its own.'
          : 'What the campaigns of this house have shown, together or one at a time.'}{' '}
        Only the maker and the treasurer read this page.
      </p>
      {lessons.campaigns.length > 1 && (
        <nav className="row" aria-label="Which campaign">
          <Link href="/bench/close-out/years" aria-current={of === null ? 'page' : undefined}>
            All together
          </Link>
          {lessons.campaigns.map(({ number, name }) => (
            <Link key={number} href={`/bench/close-out/years?of=${number}`} aria-current={of === number ? 'page' : undefined}>
              {name}
            </Link>
          ))}
        </nav>
      )}
      <Designs {...lessons} />
      <Took {...lessons} />
      <Hours {...lessons} />
      <Faults {...lessons} />
      <Gifts {...lessons} />
      <Givers {...lessons} />
      <Parts {...lessons} />
    </div>
  )
}

function Designs({ designs, earlier, currency }: Pick<Lessons, 'designs' | 'earlier' | 'currency'>) {
  const show = (minor: number) => showMoney(minor, currency)
  const top = longest(designs.flatMap(({ raisedMinor, givenMinor, boughtMinor }) => [raisedMinor, givenMinor + boughtMinor]))
  return (
    <section className="stack close" aria-labelledby="designs">
      <h2 id="designs">What each design raised, and what is in it</h2>
      {designs.length === 0 ? (
        <p>No machine is in a lot yet.</p>
      ) : (
        <>
          <p>
            Prices as they stand, whole, by the hammer or at a fixed price; what fell through is left out. Parts are those in the machines
            that were in a lot, at what they would cost to buy again. A machine that was offered in two campaigns is one machine in all of
            them together.
          </p>
          <Key parts={[['paid', 'sold for'] as const, ['gift', 'parts given'] as const, ['cost', 'parts bought'] as const]} />
          <BarTable caption={`Sold for, and parts, by design, ${currency}`} heads={['Design', 'Bars', 'Sold for, and parts']}>
            {designs.map(({ key, name, machines, sold, sales, raisedMinor, givenMinor, boughtMinor, unpriced }) => (
              <tr key={key}>
                <th scope="row">
                  {name}
                  <div className="small quiet">
                    {many(machines, 'machine', 'machines')}, {sold} sold
                  </div>
                </th>
                <td>
                  <Bar of={top} parts={[['paid', raisedMinor]]} />
                  <Bar
                    of={top}
                    parts={[
                      ['gift', givenMinor],
                      ['cost', boughtMinor],
                    ]}
                  />
                  <div className="small quiet">
                    {sales && sales.many > 1 && `From ${show(sales.least)} to ${show(sales.most)}, in the middle ${show(sales.middle)}. `}
                    {show(givenMinor)} of parts given, {show(boughtMinor)} bought
                    {unpriced > 0 && `, ${many(unpriced, 'piece', 'pieces')} without a price left out`}.
                  </div>
                </td>
                <td className="num">
                  <div>{show(raisedMinor)}</div>
                  <div>{show(givenMinor + boughtMinor)}</div>
                </td>
              </tr>
            ))}
          </BarTable>
        </>
      )}
      {earlier.length > 0 && (
        <>
          <h3>Built before this house</h3>
          <ul>
            {earlier.map(({ design, machines, timed, meanMinutes, raised }) => (
              <li key={design}>
                <b>{design}</b>: {many(machines, 'machine', 'machines')}
                {raised.map((one) => `; ${one.machines} raised ${showMoney(one.minor, one.currency)} together`).join('')}
                {meanMinutes !== null && `; ${timed} took ${sayMinutes(meanMinutes)} on average`}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}

function Took({ designs }: Pick<Lessons, 'designs'>) {
  const timed = designs.flatMap(({ key, name, minutes }) => (minutes ? [{ key, name, ...minutes }] : []))
  const top = longest(timed.map(({ middle }) => middle))
  return (
    <section className="stack close" aria-labelledby="took">
      <h2 id="took">How long each took at the bench</h2>
      {timed.length === 0 ? (
        <p>Nothing is noted of the hours of a finished machine that was in a lot.</p>
      ) : (
        <BarTable caption="Hours at the bench of a finished machine, by design" heads={['Design', 'Bar', 'The one in the middle']}>
          {timed.map(({ key, name, many: count, least, middle, most }) => (
            <tr key={key}>
              <th scope="row">
                {name}
                <div className="small quiet">{count} finished</div>
              </th>
              <td>
                <Bar of={top} parts={[['hours', middle]]} />
                {count > 1 && (
                  <div className="small quiet">
                    from {sayMinutes(least)} to {sayMinutes(most)}
                  </div>
                )}
              </td>
              <td className="num">{sayMinutes(middle)}</td>
            </tr>
          ))}
        </BarTable>
      )}
    </section>
  )
}

function Hours({ hours, currency }: Pick<Lessons, 'hours' | 'currency'>) {
  const top = longest(hours.map(({ raisedMinor }) => raisedMinor))
  return (
    <section className="stack close" aria-labelledby="hours">
      <h2 id="hours">Which hours of the day raised most</h2>
      {hours.length === 0 ? (
        <p>Nothing has been bid or given yet.</p>
      ) : (
        <>
          <p>
            For the cause, all days together, by each campaign’s own clock. A price counts in the hour in which it was settled; a bid in the
            hour in which it was placed. More closings in an hour raise more in it.
          </p>
          <BarTable caption={`For the cause, by hour of the day, ${currency}`} heads={['Hour', 'Bar', 'For the cause']}>
            {hours.map(({ hour, raisedMinor, bids }) => (
              <tr key={hour}>
                <th scope="row">
                  {String(hour).padStart(2, '0')}:00 <span className="small quiet">{many(bids, 'bid', 'bids')}</span>
                </th>
                <td>
                  <Bar of={top} parts={[['won', raisedMinor]]} />
                </td>
                <td className="num">{showMoney(raisedMinor, currency)}</td>
              </tr>
            ))}
          </BarTable>
        </>
      )}
    </section>
  )
}

function Faults({ faults, checks }: Pick<Lessons, 'faults' | 'checks'>) {
  const top = longest(faults.map((one) => one.faults))
  return (
    <section className="stack close" aria-labelledby="faults">
      <h2 id="faults">What failed, and why</h2>
      <p>
        {many(checks.taken, 'reading was', 'readings were')} taken, and {checks.failed} of them failed.
        {faults.length === 0 && ' No fault was closed.'}
      </p>
      {faults.length > 0 && (
        <BarTable caption="Closed faults, by block and cause" heads={['Block', 'Bar', 'Faults']}>
          {faults.map(({ designName, block, cause, faults: count, minutes }) => (
            <tr key={`${designName}/${block}/${cause}`}>
              <th scope="row">
                {block === '' ? 'no block named' : block} <span className="small quiet">{designName}</span>
              </th>
              <td>
                <Bar of={top} parts={[['cost', count]]} />
                <div className="small quiet">
                  {CAUSE_WORDS[cause]}
                  {minutes > 0 && `, ${sayMinutes(minutes)} in all`}
                </div>
              </td>
              <td className="num">{count}</td>
            </tr>
          ))}
        </BarTable>
      )}
    </section>
  )
}

function Gifts({ waited, unfitted }: Pick<Lessons, 'waited' | 'unfitted'>) {
  const top = longest(waited.map(({ gifts }) => gifts))
  return (
    <section className="stack close" aria-labelledby="gifts">
      <h2 id="gifts">Which gifts of parts waited</h2>
      {waited.length === 0 ? (
        <p>No gift of parts has arrived.</p>
      ) : (
        <>
          <p>From the arrival of a gift to the first fitting of a piece of it, by the campaign in which it arrived.</p>
          <BarTable caption="Gifts of parts, by how soon they were fitted" heads={['First fitted', 'Bar', 'Gifts']}>
            {waited.map(({ words, gifts }) => (
              <tr key={words}>
                <th scope="row">{words}</th>
                <td>
                  <Bar of={top} parts={[['gift', gifts]]} />
                </td>
                <td className="num">{gifts}</td>
              </tr>
            ))}
          </BarTable>
          {unfitted.length > 0 && (
            <details>
              <summary>Those that have waited longest</summary>
              <ul>
                {unfitted.map(({ giftId, partId, words, days }) => (
                  <li key={giftId}>
                    {partId === null ? words : <Link href={`/bench/parts/${partId}`}>{words}</Link>}: {many(days, 'day', 'days')}
                  </li>
                ))}
              </ul>
            </details>
          )}
        </>
      )}
    </section>
  )
}

function Givers({ givers: { all, again, names }, campaigns }: Pick<Lessons, 'givers' | 'campaigns'>) {
  return (
    <section className="stack close" aria-labelledby="givers">
      <h2 id="givers">Who gave again</h2>
      <p>
        {all === 1 ? 'One donor has given.' : `${all === 0 ? 'No' : all} donors have given.`}{' '}
        {campaigns.length > 1 && `${again === 0 ? 'None' : again} of them gave in more than one campaign.`}
      </p>
      {names.length > 0 && (
        <ul>
          {names.map(({ donorId, name, campaigns: count }) => (
            <li key={donorId}>
              {name}, in {count} campaigns
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

function Parts({ parts }: Pick<Lessons, 'parts'>) {
  const top = longest(parts.map(({ used }) => used))
  return (
    <section className="stack close" aria-labelledby="parts">
      <h2 id="parts">What to ask for first</h2>
      {parts.length === 0 ? (
        <p>Nothing is noted of the parts of a machine that was in a lot.</p>
      ) : (
        <>
          <p>
            Parts that went into these machines, replaced ones too; those of which the shelf holds the fewest for another machine come
            first. The <Link href="/wanted">wanted list</Link> asks for them once machines are begun that need them.
          </p>
          <BarTable caption="Pieces used, by part" heads={['Part', 'Bar', 'In hand']}>
            {parts.map(({ partId, words, used, machines, inHand }) => (
              <tr key={partId}>
                <th scope="row">
                  <Link prefetch={false} href={`/bench/parts/${partId}`}>
                    {words}
                  </Link>
                </th>
                <td>
                  <Bar of={top} parts={[['matched', used]]} />
                  <div className="small quiet">
                    {used} used in {many(machines, 'machine', 'machines')}
                  </div>
                </td>
                <td className="num">{inHand} in hand</td>
              </tr>
            ))}
          </BarTable>
        </>
      )}
    </section>
  )
}
