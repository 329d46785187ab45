import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { AllCredits } from './all-credits'

export const metadata: Metadata = { title: 'Credits', description: 'Everyone whose gift is in these machines, or helped to make them.' }

/** Computed anew for every reader, and followed while it is open: who withdraws consent is not here any more. */
export default async function CreditsPage() {
  const credits = await (await api()).credits.all()
  return (
    <div className="page stack wide">
      <h1>Credits</h1>
      {credits ? (
        <>
          <p>
            These machines were made from gifts. Everyone is listed by name, with the same weight for a case, a chip or an afternoon’s help.
          </p>
          <AllCredits initial={credits} />
        </>
      ) : (
        <EmptyState title="Nobody is named here yet." />
      )}
    </div>
  )
}
