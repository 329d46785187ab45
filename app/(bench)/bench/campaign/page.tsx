import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { civilOf } from '#kernel/civil'
import { CURRENCY_CODES, plainMoney } from '#kernel/money'
import { StaffOnly } from '../_refused/staff-only'
import { LadderForm } from '../lots/ladder-form'
import { CampaignForm } from './campaign-form'
import { CampaignsList } from './campaigns-list'
import { StreamDays } from './stream-days'

export const metadata: Metadata = { title: 'Campaign' }

export default async function CampaignPage() {
  const caller = await api()
  const { person } = await caller.people.shell()
  if (person?.role !== 'maker') return <StaffOnly roles={['maker']} person={person} />
  const found = await caller.campaign.whole()
  const lines = await caller.nextCampaign.lines()
  const days = await caller.programme.days()
  const ladder = found ? await caller.lots.ladder({ lot: null }) : null
  return (
    <div className="page narrow stack">
      <h1>{found ? found.name : 'Set up the campaign'}</h1>
      <p className="quiet">
        Who benefits, who sells, when the stream runs. A lot cannot open while anything bidders need to know is missing here.
      </p>
      {lines.length > 1 && (
        <section className="sheet stack" aria-labelledby="campaigns">
          <h2 id="campaigns">The campaigns of this house</h2>
          <CampaignsList lines={lines} />
        </section>
      )}
      {found?.endedAt ? (
        <p>This campaign is over. What it said stays as it was.</p>
      ) : (
        <CampaignForm
          zones={Intl.supportedValuesOf('timeZone')}
          currencies={[...CURRENCY_CODES]}
          isNew={!found}
          values={
            found && {
              ...found,
              target: plainMoney(found.targetMinor, found.currency),
              causeSharePercent: String(found.causeShareBp / 100),
              lateWindow: String(found.lateWindowSeconds),
              lateAdds: String(found.lateAddsSeconds),
              streamOpens: civilOf(found.streamOpensAt, found.zone),
              streamCloses: civilOf(found.streamClosesAt, found.zone),
            }
          }
        />
      )}
      {found && !found.endedAt && <StreamDays days={days} zone={found.zone} />}
      {ladder && (
        <section className="sheet stack" aria-labelledby="ladder-title">
          <h2 id="ladder-title">The ladder</h2>
          <LadderForm lot={null} view={ladder} />
        </section>
      )}
    </div>
  )
}
