import { HOUR } from '#kernel/instant'
import { noteAlive } from '#runtime/queue/alive'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { PUBLIC_URL } from './hand'

export interface Somebody {
  personId: string
  cookie: string
}
export interface FurnishedLot {
  number: number
  closesAt: number
}
export interface Furnished {
  dataDir: string
  lots: FurnishedLot[]
  bidders: Somebody[]
  maker: Somebody
  treasurer: Somebody
  /** Tags of units on the bench. */
  units: string[]
}

export interface FurnishWishes {
  lots?: number
  bidders?: number
  /** Bidders by their names, instead. */
  named?: readonly string[]
  units?: number
  /** In how many milliseconds from now the lot of this place closes. */
  closesIn?: (place: number) => number
  /** How long before now it was furnished: bids that lie further back than two minutes move no closing. */
  ago?: number
  reserve?: (place: number) => string | null
  /** The instant at which it is handed over, where the house will run by another clock than ours. */
  now?: number
  /** What happens in it, before it is closed and handed over. */
  inside?: (stage: Stage, lots: readonly FurnishedLot[]) => Promise<void>
}

const letters = (place: number): string => {
  const [low, high] = [place % 26, Math.floor(place / 26)]
  return `${String.fromCharCode(97 + (high % 26))}${String.fromCharCode(97 + low)}${high >= 26 ? String.fromCharCode(97 + Math.floor(high / 26)) : ''}`
}

/** Makes a house with open lots, bidders who may bid without end, and staff, all of them signed in; nothing of it is open when this returns. */
export async function furnish(dataDir: string, wishes: FurnishWishes = {}): Promise<Furnished> {
  const {
    lots: lotCount = 4,
    bidders: bidderCount = 16,
    named,
    units = 0,
    closesIn = () => 12 * HOUR,
    ago = 0,
    reserve = () => null,
    inside,
  } = wishes
  const now = Date.now()
  const stage = openStage({ now: now - ago, dir: dataDir, publicUrl: PUBLIC_URL })
  // Until it is handed over nothing of it need outlive a power cut.
  stage.db.$client.pragma('synchronous = 0')
  const signIn = async (personId: string): Promise<Somebody> => {
    const cookies = await stage.house.signIn.openSession(personId, 'Firefox on Linux')
    return { personId, cookie: cookies.map((cookie) => cookie.split(';')[0]).join('; ') }
  }
  await makeCampaign(stage)
  const lots: FurnishedLot[] = []
  for (let place = 0; place < lotCount; place++) {
    const amount = reserve(place)
    const { number, closesAt } = await makeOpenLot(stage, {
      tag: `LOT-${String(place + 1).padStart(3, '0')}`,
      closesIn: closesIn(place) + ago,
      ...(amount !== null && { form: { reserveKind: 'amount', reserve: amount } }),
    })
    lots.push({ number, closesAt })
  }
  const bidders: Somebody[] = []
  for (const name of named ?? Array.from({ length: bidderCount }, (_, place) => `Bidder ${letters(place)}`)) {
    const { actor } = await makeBidder(stage, name)
    bidders.push(await signIn(actor.personId))
  }
  await stage.command(({ db }) => db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
  const tags = units > 0 ? (await makeBench(stage, { units })).tags : []
  for (const tag of tags) await bringUpUnit(stage, tag, 'B2')
  const maker = await signIn((await stage.actor('maker')).personId)
  const treasurer = await signIn((await stage.actor('treasurer')).personId)
  await inside?.(stage, lots)
  stage.clock.set(wishes.now ?? Math.max(stage.clock.now(), Date.now()))
  await stage.command((turn) => noteAlive(turn))
  stage.house.close()
  return { dataDir, lots, bidders, maker, treasurer, units: tags }
}
