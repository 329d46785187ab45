import { saveCampaign } from '../server/campaign/campaign.service'
import { civilOf } from '../server/kernel/civil'
import { DAY, HOUR } from '../server/kernel/instant'
import { add, type Telling, tell } from './stage'

const ZONE = 'Europe/London'

/** Long Bench Day, as it stands at `now`: the stream began some hours ago and the next lot is about to close. All of it is invented. */
export async function tellStory(telling: Telling): Promise<void> {
  const { now, say, goTo } = telling
  goTo(now - 45 * DAY)
  say('a campaign and its people')
  await tell(telling, (turn) =>
    saveCampaign(
      turn,
      {
        name: 'Long Bench Day',
        causeName: 'Ferry Lane Repair School',
        causeRegistration: 'invented, no. 2041',
        causeSharePercent: '100',
        sellerName: 'Long Bench workshop',
        sellerAddress: '4 Slip Road, Ferry Lane',
        sellerKind: 'private',
        currency: 'GBP',
        zone: ZONE,
        streamOpens: civilOf(now - 5 * HOUR, ZONE),
        streamCloses: civilOf(now + 7 * HOUR, ZONE),
        target: '3000',
        howToPay: 'By bank transfer within ten days, with the reference that stands on the invoice.',
        cancelWords:
          'The seller is a private person. Write to the bench within 14 days of receiving the machine if it is not as described. Your local rules may give you more.',
        partsAddress: 'Long Bench, 4 Slip Road, Ferry Lane',
      },
      { isDemo: true },
    ),
  )
  await add(telling, 'maker', 'Wilma Harrow')
  await add(telling, 'volunteer', 'Tobi Lark')
  await add(telling, 'treasurer', 'Edda Quill')
  await add(telling, 'host', 'Jory Penn')
  await add(telling, 'bidder', 'Sunniva Dahl', 'NO')
  await add(telling, 'bidder', 'Anton Reyes', 'ES')
  goTo(now)
}
