import { DAY, HOUR } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { tellStory } from '#seed/story'
import { NOON, openStage, type Stage } from '#test/stage'

/** The demo's whole story, told as of noon: designs, gifts, a bench's work, certificates, five lots and their bids. */
export async function openToldHouse(): Promise<Stage> {
  const stage = openStage({ now: 0, isDemo: true, publicUrl: 'https://bench.example' })
  await tellStory({ now: NOON, house: stage.house, goTo: (at) => stage.clock.set(Math.max(stage.clock.now(), at)), say: () => {} })
  return stage
}

/** The same a day later: every lot has ended, what was sold is partly paid, and the cause has had some of it. */
export async function openEndedHouse(): Promise<Stage> {
  const stage = await openToldHouse()
  stage.clock.pass(12 * HOUR)
  await stage.command(closeDueLots)
  stage.clock.pass(DAY - 12 * HOUR)
  const maker = await stage.as('maker')
  for (const { number } of (await maker.lots.all()).filter(({ state, soldWhere }) => state === 'open' && soldWhere === 'elsewhere'))
    await maker.bidding.elsewhereResult({ lot: number, hammer: '96', source: 'The other house, by letter' })
  const treasurer = await stage.as('treasurer')
  const books = await treasurer.books.all()
  for (const lot of books?.statement.lots.filter(({ owedMinor }) => owedMinor > 0).slice(0, 2) ?? [])
    await treasurer.booking.pay({
      key: `pays lot ${lot.number}`,
      lot: lot.number,
      amount: (lot.owedMinor / 100).toFixed(2),
      reference: `bank, ${lot.number}`,
      on: '',
    })
  await treasurer.booking.remit({ key: 'sent on to the cause', amount: '200.00', reference: 'transfer 1', on: '' })
  await treasurer.booking.cost({
    key: 'what the boxes cost',
    what: 'Boxes',
    about: 'sending',
    amount: '14.40',
    bearer: 'postage',
    paidFrom: 'bank',
    reference: 'till 3',
    on: '',
  })
  return stage
}
