import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { MessagesSheet } from './messages-sheet'
import { SoundSwitch } from './sound-switch'
import { ZoneForm } from './zone-form'

export const metadata: Metadata = { title: 'How we tell you', robots: { index: false } }

/** How somebody hears of what happens to their bids: messages to their devices, a sound, and otherwise email. */
export default async function ToldPage({ searchParams }: { searchParams: Promise<{ lot?: string | string[] }> }) {
  const { lot } = await searchParams
  const number = typeof lot === 'string' && /^[1-9]\d{0,8}$/.test(lot) ? Number(lot) : null
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (!person) redirect(`/sign-in?next=${encodeURIComponent(number === null ? '/me/told' : `/me/told?lot=${number}`)}`)
  const told = await caller.told.mine()
  const named = number === null ? null : (await caller.lotPage.page({ lot: number }).catch(orNotFound)).card
  const zone = campaign?.zone ?? 'UTC'
  return (
    <div className="page stack">
      <h1>How we tell you</h1>
      <p>
        You hear when you are outbid, in the last minutes of a lot, when a late bid gives it more time, and how it ended. How a lot ended,
        and whatever you are bound by, comes by email in any case; being outbid comes by email where no device could be told.
      </p>
      <MessagesSheet told={told} zone={zone} named={named && number !== null ? { number, title: named.title } : null} />
      <section className="sheet stack" aria-labelledby="sound">
        <h2 id="sound">Sound and vibration</h2>
        <p>While the page of a lot is open here, this device can call you. The title of its tab says “Outbid” and the time in any case.</p>
        <SoundSwitch />
      </section>
      <section className="sheet stack" aria-labelledby="zone">
        <h2 id="zone">Times in our emails</h2>
        <ZoneForm zone={told.zone ?? zone} zones={Intl.supportedValuesOf('timeZone')} />
      </section>
    </div>
  )
}
