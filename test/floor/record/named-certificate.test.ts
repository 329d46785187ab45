import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { CERTIFICATE_ISSUED } from '#bench/certificates/certificates.contract'
import { HOUR, MINUTE } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { certify, makeBidder, makeOpenLot } from '#test/make/lot'
import { makeKey, makeLot } from '#test/make/lot-history'
import { openStage, type Stage } from '#test/stage'
import { verifyHistory } from '#test/verifier/verify-history'

describe('a lot whose terms name a certificate', () => {
  let stage: Stage
  beforeEach(() => {
    stage = openStage()
  })
  afterEach(() => stage.close())

  const serials = () => stage.db.$client.prepare('SELECT serial FROM certificate ORDER BY rowid').pluck().all().map(String)
  const entries = (number: number) =>
    readHistory(stage.sight(), number).leaves.flatMap((leaf) => (leaf.kind === 'corrected' && leaf.by === 'rule' ? [leaf.certificate] : []))
  const bothHold = (number: number) => {
    const history = JSON.parse(JSON.stringify(readHistory(stage.sight(), number)))
    expect(checkHistory(history).filter(({ isSound }) => !isSound)).toEqual([])
    verifyHistory(
      history,
      stage
        .sight()
        .keys.jwks()
        .keys.map(({ x }) => x ?? ''),
    )
  }
  const issued = (unitId: string, serial: string, more: object) =>
    stage.command((turn) => turn.record({ kind: CERTIFICATE_ISSUED, subject: `certificate:${serial}`, body: { serial, unitId, ...more } }))

  it('says in its history that it was withdrawn, and what was issued after it', async () => {
    const { number, unitId } = await makeOpenLot(stage, { closesIn: 3 * HOUR })
    const ada = await makeBidder(stage, 'ada')
    await ada.bid(number, '40')
    const [first = ''] = serials()
    await (await stage.as('maker')).bringup.setAside({ tag: 'TERN-03', reason: 'Something rattles.' })
    expect(entries(number)).toEqual([{ serial: first, is: 'withdrawn', by: null }])
    expect((await stage.visitor().bidding.frame({ lot: number }))?.corrections.at(-1)?.words).toContain(
      `${first}, which this lot was offered with, was withdrawn: `,
    )

    stage.clock.pass(5 * MINUTE)
    await certify(stage, unitId)
    const [, second = ''] = serials()
    await issued(unitId, second, { supersedes: null, after: first })
    expect(entries(number).at(-1)).toEqual({ serial: first, is: 'withdrawn', by: second })
    // A certificate that this lot never named is nothing to it.
    await issued(unitId, 'TS-2027-0999-A', { supersedes: 'TS-2027-0998-A' })
    expect(entries(number)).toHaveLength(2)
    await issued(unitId, 'TS-2027-0999-A', { supersedes: second })
    expect(entries(number).at(-1)).toEqual({ serial: second, is: 'superseded', by: 'TS-2027-0999-A' })
    bothHold(number)
  })
})

describe('an entry about a certificate', () => {
  const SERIAL = 'TS-2027-0001-L'
  function found(certificate: Record<string, unknown>, by = 'rule'): [boolean, boolean] {
    const lot = makeLot({ closesAt: HOUR })
    const key = makeKey()
    const opened = lot.leaves[0]
    if (opened?.kind === 'opened') Object.assign(opened.terms.sale, { certificate: SERIAL })
    lot.leaves.push({ kind: 'corrected', at: new Date(MINUTE).toISOString(), by, words: 'As it is.', certificate } as never)
    const history = JSON.parse(JSON.stringify(lot.history(key)))
    let byDocument = true
    try {
      verifyHistory(history, [Buffer.from(key.raw).toString('base64url')])
    } catch {
      byDocument = false
    }
    return [checkHistory(history).every(({ isSound }) => isSound), byDocument]
  }

  it.each([
    ['of the one that the terms name', { serial: SERIAL, is: 'withdrawn', by: null }, 'rule', true],
    ['of one that follows it', { serial: SERIAL, is: 'superseded', by: 'TS-2027-0002-J' }, 'rule', true],
    ['of another', { serial: 'TS-2027-0002-J', is: 'withdrawn', by: null }, 'rule', false],
    ['by a person', { serial: SERIAL, is: 'withdrawn', by: null }, 'maker', false],
    ['superseded by none', { serial: SERIAL, is: 'superseded', by: null }, 'rule', false],
    ['that is current again', { serial: SERIAL, is: 'current', by: null }, 'rule', false],
    ['with a name too many', { serial: SERIAL, is: 'withdrawn', by: null, really: true }, 'rule', false],
  ])('%s: both checkers find the same', (_what, certificate, by, holds) => {
    expect(found(certificate, by)).toEqual([holds, holds])
  })
})
