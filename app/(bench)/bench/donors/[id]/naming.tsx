import type { DonorCard } from '#stock/donors/donor.service'
import { ConsentSwitches } from '../consent-switches'
import { DonorForm } from './donor-form'

/** Where they may be named, use by use. */
export function MayBeNamed({ donor }: { donor: DonorCard }) {
  return (
    <section className="sheet stack" aria-labelledby="naming">
      <h2 id="naming">May we name them?</h2>
      <ConsentSwitches donorId={donor.id} consents={donor.consents} />
      <p className="small quiet">Withdrawing takes effect everywhere at once, but a printed card cannot be recalled.</p>
    </section>
  )
}

/** Under which name, how it is said, and how they are reached. */
export function AsShown({ donor }: { donor: DonorCard }) {
  return (
    <section className="sheet stack" aria-labelledby="name">
      <h2 id="name">As they are shown</h2>
      <DonorForm donor={donor} />
    </section>
  )
}
