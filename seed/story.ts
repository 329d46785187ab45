import { civilOf } from '#kernel/civil'
import { DAY, HOUR } from '#kernel/instant'
import { saveCampaign } from '#people/campaign/campaign.service'
import { tellPacking, tellPostage } from './after'
import { type BenchPlan, tellUnits } from './building'
import { BIDDERS, STAFF } from './cast'
import { tellDay } from './day'
import { tellDesigns } from './designs'
import { tellGifts, tellLateParcels } from './gifts'
import { tellHours } from './hours'
import { tellJustNow, tellOutside } from './outside'
import { tellLots } from './sale'
import { tellShelf } from './shelf'
import { add, type Person, type Telling } from './stage'

const ZONE = 'Europe/London'

// What two counters of one run share, and the others have not.
const BAG = { designators: ['C3'], boughtFrom: 'Parts by the Quay', marking: 'loose in a paper bag', holds: 2 }

/** Small machines, each made in an evening. */
const EVENINGS = ['KNOT-01', 'RUFF-01', 'KNOT-02', 'RUFF-02', 'KNOT-03', 'RUFF-03', 'KNOT-04', 'RUFF-04', 'KNOT-05']

/** Where each machine has got to. Those not named here are still parts in their batches. */
const plans = (now: number): BenchPlan[] => [
  { tag: 'TERN-01', from: now - 20 * DAY, readings: { B9: '1.08', B12: '455.6' } },
  { tag: 'LARK-01', from: now - 18 * DAY },
  {
    tag: 'TERN-02',
    from: now - 14 * DAY,
    readings: { B6: '8.02', B9: '1.08', B17: '6.36498', B21: '13' },
    mended: {
      fault: 'The core of T3 was cracked',
      changed: 'T3 replaced by another of its batch',
      designator: 'T3',
      minutes: 55,
      after: '21.4',
    },
  },
  { tag: 'WREN-01', from: now - 12 * DAY },
  { tag: 'LARK-02', from: now - 10 * DAY },
  { tag: 'PIPIT-01', from: now - 8 * DAY },
  { tag: 'TERN-03', from: now - 4 * DAY, readings: { B6: '8.00', B21: '12.5' } },
  { tag: 'LARK-03', from: now - 3 * DAY - HOUR, until: 'C12' },
  { tag: 'PIPIT-02', from: now - 3 * DAY, readings: { F19: '9999871' }, searched: { F20: '21' } },
  { tag: 'PIPIT-03', from: now - 2 * DAY, bag: BAG, readings: { F8: '41' } },
  // It passes, and draws half as much again as every other of its run.
  { tag: 'PIPIT-04', from: now - 2 * DAY + 2 * HOUR, until: 'F9', readings: { F5: '11.4' } },
  { tag: 'PIPIT-05', from: now - 2 * DAY + 4 * HOUR, bag: BAG, readings: { F8: '38' } },
  { tag: 'WREN-02', from: now - 3 * DAY, until: 'D1' },
  ...EVENINGS.map((tag, evening) => ({ tag, from: now - 14 * DAY + evening * DAY + 7 * HOUR })),
]

/** Long Bench Day, as it stands at `now`: the stream began some hours ago and the next lot is about to close. All of it is invented. */
export async function tellStory(telling: Telling): Promise<void> {
  const { now, say, goTo, house } = telling
  goTo(now - 45 * DAY)
  say('a campaign and its people')
  await house.queue.run((turn) =>
    saveCampaign(
      turn,
      {
        name: 'Long Bench Day',
        causeName: 'Ferry Lane Repair School',
        causeRegistration: 'FL-2041 (invented)',
        causeSharePercent: '100',
        sellerName: 'Long Bench workshop',
        sellerAddress: '4 Slip Road, Ferry Lane',
        sellerKind: 'private',
        currency: 'GBP',
        zone: ZONE,
        streamOpens: civilOf(now - 5 * HOUR, ZONE),
        streamCloses: civilOf(now + 7 * HOUR, ZONE),
        target: '1500',
        howToPay: 'By bank transfer, with the reference that stands on the invoice.',
        cancelWords:
          'The seller is a private person. Write to the bench within 14 days of receiving the machine if it is not as described. Your local rules may give you more.',
        partsAddress: 'Long Bench, 4 Slip Road, Ferry Lane',
      },
      { isDemo: true },
    ),
  )
  const maker = await add(telling, 'maker', STAFF.maker)
  const volunteer = await add(telling, 'volunteer', STAFF.volunteer)
  const treasurer = await add(telling, 'treasurer', STAFF.treasurer)
  const host = await add(telling, 'host', STAFF.host)
  const bidders = []
  for (const { name, country } of BIDDERS) bidders.push(await add(telling, 'bidder', name, country))

  const designs = await tellDesigns(telling, maker)
  const given = await tellGifts(telling, { volunteer, maker }, designs)
  await tellBench(telling, maker)
  await tellOutside(telling, { maker, volunteer }, given)
  await tellLateParcels(telling, volunteer, given)
  await tellShelf(telling, { maker, volunteer }, given)
  await tellHours(telling, { maker, volunteer })
  await tellPostage({ treasurer })
  const guests = await tellLots(telling, maker)
  await tellDay(telling, { maker, volunteer, treasurer, host }, bidders, guests)
  await tellPacking(telling, { volunteer, buyer: bidders[0] })
  await tellJustNow(telling, volunteer, given)
  goTo(now)
}

/** Each machine step by step at its own time; what is done is certified. */
const tellBench = (telling: Telling, maker: Person): Promise<void> =>
  tellUnits(telling, maker, plans(telling.now), async (tag) => {
    await maker.api.certificates.issue({ tag })
  })
