import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { showMoney } from '#kernel/money'
import { StaffOnly } from '../../_refused/staff-only'
import styles from './relief.module.css'
import { SwitchButton } from './switch-button'
import { ValueForm } from './value-form'

export const metadata: Metadata = { title: 'Tax relief' }

const ROLES = ['maker', 'treasurer'] as const

/** Which countries' rules are shown to a buyer, and what was published of a lot's value before bidding. */
export default async function ReliefPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (!person || !ROLES.some((role) => role === person.role)) return <StaffOnly roles={ROLES} person={person} />
  const desk = await caller.relief.desk()
  if (!desk) notFound()
  const { currency, countries, lots, mayWrite } = desk
  const still = lots.filter(({ isOpenToChange }) => isOpenToChange)
  const values = lots.filter(({ valueMinor }) => valueMinor !== null)
  return (
    <div className="page stack wide">
      <h1>Tax relief</h1>
      <Notice tone="doubt" title="An estimate, not advice">
        <p>
          It is shown to buyers who live in the country, and here in the books. Donors of parts, cases or labour are told nothing about
          value. The cause and the tax office decide.
        </p>
      </Notice>
      <ul className="tiles">
        {countries.map(({ country, name, isOn, source, trueOn, conditions }) => (
          <li key={country} className="sheet stack close">
            <h2 className="row apart">
              {name}
              {isOn ? <Chip tone="ok">Shown</Chip> : <Chip>Off</Chip>}
            </h2>
            <ul className={styles.conditions}>
              {conditions.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
            <p className="small quiet">
              Source: {source}. True for: {trueOn}.
            </p>
            {mayWrite && (
              <div className="row">
                <SwitchButton country={country} name={name} isOn={isOn} />
              </div>
            )}
          </li>
        ))}
      </ul>
      <section className="stack" aria-labelledby="values">
        <h2 id="values">Values published before bidding</h2>
        <p>
          A one-off machine has none: it cannot be bought elsewhere. If the same thing can be bought somewhere, publish its price before the
          lot opens; it is shown on the lot’s page.
        </p>
        {values.length > 0 && (
          <ul className="plain-list stack close">
            {values.map(({ number, title, valueMinor, knownFrom }) => (
              <li key={number}>
                Lot {number}, {title}: <b className="num">{showMoney(valueMinor ?? 0, currency)}</b>, {knownFrom}
              </li>
            ))}
          </ul>
        )}
        {mayWrite && still.length > 0 && (
          <section className="sheet stack" aria-label="Publish a value">
            <ValueForm currency={currency} lots={still} />
          </section>
        )}
        {still.length === 0 && (
          <p className="quiet">Every lot has opened, so a value published now would not have been known beforehand.</p>
        )}
      </section>
    </div>
  )
}
