import Link from 'next/link'
import { RunForm } from './run-form'

interface RunsSectionProps {
  designId: string
  runs: readonly { id: string; tagPrefix: string }[]
  isMaker: boolean
}

/** What was made to this design, and the beginning of another run. */
export function RunsSection({ designId, runs, isMaker }: RunsSectionProps) {
  return (
    <section className="sheet stack">
      <h2>Runs</h2>
      {runs.length === 0 ? (
        <p className="quiet">No run of this design has been made yet.</p>
      ) : (
        <p>
          {runs.map(({ id, tagPrefix }) => (
            <Link key={id} href="/bench" className="code">
              {tagPrefix}{' '}
            </Link>
          ))}
        </p>
      )}
      {isMaker && <RunForm designId={designId} run={runs[0]?.id ?? null} />}
    </section>
  )
}
