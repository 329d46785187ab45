import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { countriesByName } from '#kernel/countries'
import { BandsFile } from './bands-file'
import { BandsForm } from './bands-form'
import { TermsForm } from './terms-form'

export const metadata: Metadata = { title: 'Table of postage' }

/** The campaign's table of postage, and what holds for every parcel. */
export default async function PostagePage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  const role = person?.role
  if (role !== 'maker' && role !== 'treasurer') return <StaffOnly roles={['maker', 'treasurer']} person={person} />
  const { bands, terms, currency } = await caller.sending.table()
  return (
    <div className="page stack wide">
      <Crumbs trail={[{ href: '/bench/sending', label: 'Sending' }]} />
      <h1>Table of postage</h1>
      <p>
        What it costs to send a parcel to a zone, up to a weight. Lots being prepared take their postage from here; an open lot keeps what
        it promised.
      </p>
      <section className="sheet stack" aria-labelledby="table">
        <h2 id="table">Zones and weights</h2>
        <BandsForm key={JSON.stringify(bands)} bands={bands} currency={currency} />
      </section>
      <section className="sheet stack" aria-labelledby="file">
        <h2 id="file">As a file</h2>
        <BandsFile />
      </section>
      <section className="sheet stack" aria-labelledby="terms">
        <h2 id="terms">For every parcel</h2>
        <TermsForm terms={terms} countries={countriesByName()} />
      </section>
    </div>
  )
}
