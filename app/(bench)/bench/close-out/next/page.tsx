import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { CURRENCY_CODES, plainMoney } from '#kernel/money'
import { CampaignForm } from '../../campaign/campaign-form'
import { insteadOf } from '../for-whom'

export const metadata: Metadata = { title: 'The next campaign' }

const many = (count: number, one: string, more: string) => `${count} ${count === 1 ? one : more}`

/** Ends this campaign and begins the next in the same house: what goes along, what stays, and the form. */
export default async function NextCampaignPage() {
  const instead = await insteadOf('The next campaign', ['maker'])
  if (instead) return instead
  const caller = await api()
  const [view, campaign, { atWorkIn }] = await Promise.all([caller.nextCampaign.view(), caller.campaign.whole(), caller.people.shell()])
  if (!view || !campaign) return null
  if (atWorkIn !== null)
    return (
      <div className="page narrow stack">
        <h1>The next campaign</h1>
        <Notice tone="doubt" title={`You are at work in ${atWorkIn}`}>
          <p>
            Go back to the present campaign first, on <Link href="/bench/campaign">the campaign page</Link>.
          </p>
        </Notice>
      </div>
    )
  return (
    <div className="page narrow stack">
      <h1>The next campaign</h1>
      <p>
        It begins in this house, when you press the button at the end. {campaign.name} is over then: its lots, credits, books and papers
        stay as they are, at the addresses that were printed for them.
      </p>
      {view.inTheWay.length > 0 && (
        <Notice tone="doubt" title="It cannot begin yet">
          {view.inTheWay.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </Notice>
      )}
      <section className="sheet stack close" aria-labelledby="along">
        <h2 id="along">What goes along</h2>
        <ul>
          <li>
            {many(view.designs, 'design', 'designs')}, {many(view.instruments, 'instrument', 'instruments')} and what mended faults have
            taught
          </li>
          <li>{many(view.batches, 'batch of parts', 'batches of parts')} with something left</li>
          <li>
            {view.machines.length === 0
              ? 'No machine is left'
              : `${many(view.machines.length, 'machine that was not sold', 'machines that were not sold')}: ${view.machines.join(', ')}`}
          </li>
          {view.drafts.length > 0 && (
            <li>
              {view.drafts.length === 1 ? 'The lot that was never open goes' : 'Lots that were never open go'} along as{' '}
              {view.drafts.length === 1 ? 'a draft' : 'drafts'} without a time:{' '}
              {view.drafts.map(({ number, title }) => `lot ${number}, ${title}`).join('; ')}
            </li>
          )}
          <li>{many(view.staff, 'person of the staff', 'people of the staff')}, with their roles</li>
          <li>The ladder, how buyers pay and what postage costs, as they stand; change them afterwards</li>
        </ul>
      </section>
      <section className="sheet stack close" aria-labelledby="who">
        <h2 id="who">Who does not go along unasked</h2>
        <p>
          {many(view.donors, 'donor', 'donors')} and {many(view.bidders, 'bidder', 'bidders')} left an email address for this campaign. Once
          the next has begun you can ask them by email whether they want to be kept. Whoever does not answer is forgotten on the day that
          you name in the letter. Nobody is written to unless you send it.
        </p>
      </section>
      <CampaignForm
        zones={Intl.supportedValuesOf('timeZone')}
        currencies={[...CURRENCY_CODES]}
        isNew
        follows={{ slug: view.slug, name: campaign.name, ends: view.ends }}
        values={{
          ...campaign,
          name: '',
          target: plainMoney(campaign.targetMinor, campaign.currency),
          causeSharePercent: String(campaign.causeShareBp / 100),
          lateWindow: String(campaign.lateWindowSeconds),
          lateAdds: String(campaign.lateAddsSeconds),
          streamOpens: '',
          streamCloses: '',
          streamUrl: '',
          playerUrl: '',
        }}
      />
    </div>
  )
}
