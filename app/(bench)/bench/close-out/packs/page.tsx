import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { insteadOf } from '../for-whom'
import { PackDesk } from './pack-desk'

export const metadata: Metadata = { title: 'Packs' }

/** Everything in one archive, to be read without this program and read back by it. */
export default async function PacksPage() {
  const instead = await insteadOf('Packs', ['maker', 'treasurer'])
  if (instead) return instead
  const packs = await (await api()).packs.all()
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>Packs</h1>
        <p>
          A pack is one archive of everything in open formats: the tables as JSON and CSV, certificates and invoices as PDF, photographs,
          bid histories, and the public halves of the keys. It can be read without this program, and restored into an empty installation,
          where it gives the same totals. No pack contains private keys.
        </p>
      </header>
      <PackDesk packs={packs} />
    </div>
  )
}
