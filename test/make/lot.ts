import { certificate, design, photograph, run, unit } from '#db/schema/index'
import { HOUR, type Instant } from '#kernel/instant'
import type { BidAnswer } from '#sale/bids/bids.contract'
import { planClosing } from '#sale/closings/closings.service'
import type { SaveLotIn } from '#sale/lots/lots.contract'
import type { Stage } from '#test/stage'
import { makeCampaign } from './campaign'

export const PHOTO = 'c0ffee'.padEnd(64, '0')
let made = 0

/** A unit with its own design and run; with a certificate that stands, unless told otherwise. */
export async function makeTestedUnit(stage: Stage, { tag = 'TERN-03', isCertified = true } = {}): Promise<{ unitId: string; tag: string }> {
  const { personId } = await stage.actor('maker')
  made += 1
  const id = `${tag}-${made}`
  await stage.command(({ db, now }) => {
    const common = { id, at: now }
    db.insert(design)
      .values({
        ...common,
        key: id,
        name: 'Saltmarsh',
        revision: '3',
        decisionRule: 'simple',
        digest: '0'.repeat(64),
        byPersonId: personId,
        quirks: '',
        cautions: '',
      })
      .run()
    db.insert(run)
      .values({ ...common, designId: id, tagPrefix: `T${made}` })
      .run()
    db.insert(unit)
      .values({ ...common, tag, runId: id, number: 1 })
      .run()
  })
  if (isCertified) await certify(stage, id)
  return { unitId: id, tag }
}

export async function certify(stage: Stage, unitId: string): Promise<void> {
  const { personId } = await stage.actor('maker')
  made += 1
  const serial = `TS-2027-${String(made).padStart(4, '0')}-A`
  const row = { id: serial, serial, unitId, byPersonId: personId, kid: 'k', payload: 'p', protected: 'p', signature: 'A'.repeat(86) }
  await stage.command(({ db, now }) =>
    db
      .insert(certificate)
      .values({ ...row, issuedAt: now })
      .run(),
  )
}

export const lotForm = (lot: number, change: Partial<Record<keyof SaveLotIn, string>> = {}) =>
  ({
    lot,
    title: 'Saltmarsh shortwave receiver',
    story: 'Built over nine evenings from gifts.',
    extras: 'A printed booklet\nA spare valve',
    opening: '20',
    reserveKind: 'none',
    reserve: '',
    low: '120',
    likely: '180',
    high: '240',
    weightGrams: '2400',
    lengthMm: '320',
    widthMm: '240',
    heightMm: '160',
    soldWhere: 'here',
    elsewhereUrl: '',
    ...change,
  }) as Parameters<Awaited<ReturnType<Stage['as']>>['lots']['save']>[0]

export const postageRows = [
  { zone: 'At home', countries: 'GB', amount: '12' },
  { zone: 'Europe, tracked', countries: 'NO, DE, IE', amount: '18' },
]

interface Wishes {
  tag?: string
  closesIn?: number
  form?: Partial<Record<keyof SaveLotIn, string>>
  /** What its terms promise the cause. */
  sharePercent?: string
}

/** A lot with everything it needs to open, closing in an hour unless told otherwise. */
export async function makePreparedLot(
  stage: Stage,
  { tag = 'TERN-03', closesIn = HOUR, form = {}, sharePercent = '100' }: Wishes = {},
): Promise<{ number: number; unitId: string; closesAt: Instant }> {
  await makeCampaign(stage, { causeSharePercent: sharePercent })
  const { unitId } = await makeTestedUnit(stage, { tag })
  const maker = await stage.as('maker')
  const { number } = await maker.lots.start({ unit: tag })
  await maker.lots.save(lotForm(number, form))
  await maker.lots.savePostage({ lot: number, rows: postageRows })
  await stage.command(({ db, now }) =>
    db.insert(photograph).values({ sha: PHOTO, width: 1600, height: 900, at: now }).onConflictDoNothing().run(),
  )
  await maker.lots.addPhotograph({ lot: number, sha: PHOTO, caption: 'From the front' })
  const closesAt = stage.clock.now() + closesIn
  await stage.command((turn) => planClosing(turn, number, closesAt))
  return { number, unitId, closesAt }
}

export async function makeOpenLot(stage: Stage, wishes: Wishes = {}): Promise<{ number: number; unitId: string; closesAt: Instant }> {
  const prepared = await makePreparedLot(stage, wishes)
  await (await stage.as('maker')).bidding.open({ lot: prepared.number })
  return prepared
}

/** Somebody with a paddle who can bid. */
export async function makeBidder(stage: Stage, name: string, country = 'GB') {
  const caller = await stage.as('bidder', name)
  const { number } = await caller.people.takePaddle({ name, country, acceptsRules: true })
  let sent = 0
  return {
    paddle: number,
    actor: await stage.actor('bidder', name),
    caller,
    bid: (lot: number, maximum: string, key = `${name.padEnd(16, '-')}-${++sent}`): Promise<BidAnswer> =>
      caller.bidding.place({ lot, maximum, key }),
  }
}
