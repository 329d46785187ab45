import Link from 'next/link'
import type { Missing } from '#sale/lots/gate.rules'

/** What each point of the gate is called where there is no room for its sentence. */
const SHORT: Record<string, string> = { opening: 'opening price', closing: 'closing time', elsewhere: 'address' }

/** Whether a lot could open now, and if not what it lacks, in a few words. */
export function GateSummary({ lot, missing }: { lot: number; missing: readonly Missing[] | undefined }) {
  if (!missing) return null
  if (missing.length === 0) return <p className="small">ready to open</p>
  return (
    <p className="small quiet">
      <Link prefetch={false} href={`/bench/lots/${lot}`}>
        lacks {missing.map(({ what }) => SHORT[what] ?? what).join(', ')}
      </Link>
    </p>
  )
}
