import { api } from '#app/_trpc/server.ts'
import { When } from '#app/_ui/when.tsx'
import type { DonorPage } from '#gifts/outcome/donor-page.service'
import { MergeForm } from './merge-form'

/** Records that were made one with this. */
export function MergedRecords({ records, zone }: { records: DonorPage['mergedRecords']; zone: string }) {
  if (records.length === 0) return null
  return (
    <section className="stack close" aria-labelledby="merged">
      <h2 id="merged">Merged into this record</h2>
      <ul className="small">
        {records.map(({ id, name, contact, mergedAt }) => (
          <li key={id}>
            {name}
            {contact !== '' && ` (${contact})`}
            {mergedAt !== null && (
              <>
                , <When at={mergedAt} zone={zone} brief />
              </>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** The maker makes one record of two; it stands open where others look like the same donor. */
export async function TwoRecords({ donor, doubles }: Pick<DonorPage, 'donor' | 'doubles'>) {
  const { donors } = await (await api()).donors.list()
  const others = donors
    .filter(({ id, isStandIn }) => id !== donor.id && !isStandIn)
    .map(({ id, name, mailHint }) => ({ id, label: mailHint === '' ? name : `${name} (${mailHint})` }))
  if (others.length === 0) return null
  return (
    <details className="sheet" open={doubles.length > 0}>
      <summary>
        <b>Two records of one donor?</b>
      </summary>
      <MergeForm keptId={donor.id} keptName={donor.name} others={others} doubles={doubles} />
    </details>
  )
}
