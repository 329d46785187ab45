import { DAY } from '#kernel/instant'
import type { Given } from './gifts'
import type { Person, Telling } from './stage'

/** On the shelf: a substitute, a batch that is being sampled, a chip that one reader refuses, and what comes when. */
export async function tellShelf(
  { now, goTo, say }: Telling,
  { maker, volunteer }: { maker: Person; volunteer: Person },
  { designs }: Given,
): Promise<void> {
  say('the shelf: substitutes, samples and what comes when')
  goTo(now - 2 * DAY)
  const tidemill = await maker.api.designs.get({ id: designs.designIds.get('tidemill-lc6') ?? '' })
  const parts = await maker.api.parts.list()
  const buttons = tidemill.lines.find(({ part }) => part.value === '5.1 kΩ')
  const near = parts.find(({ kind, value, package: size }) => kind === 'resistor' && value === '4.7 kΩ' && size === 'axial')
  if (buttons && near)
    await maker.api.designs.accept({ lineId: buttons.id, partId: near.id, reason: 'It only holds a button up; any few kilohms do.' })

  const decoupling = parts.find(({ kind, value }) => kind === 'capacitor' && value === '100 nF')
  const [largest] = decoupling
    ? (await volunteer.api.buildable.part({ partId: decoupling.id })).batches.sort((a, b) => b.quantity - a.quantity)
    : []
  if (largest) {
    await volunteer.api.shelf.fixSampling({ batchId: largest.id, level: 'II', aql: '2.5' })
    await volunteer.api.shelf.testBatch({ batchId: largest.id, tested: 11, bad: 0, reader: 'Bridge no. 1' })
  }

  const { part: generator } = await maker.api.parts.add({
    kind: 'chip',
    name: 'Character generator, 24 pins',
    package: 'DIP-24',
    programmed: true,
  })
  const bag = await maker.api.shelf.buy({ partId: generator.id, boughtFrom: 'a market stall', quantity: 3, dateCode: '8437' })
  const [first, second] = (await maker.api.buildable.part({ partId: generator.id })).batches.find(({ id }) => id === bag.id)?.loose ?? []
  if (first && second) {
    await maker.api.shelf.inspect({ pieceId: first.id, reader: 'Programmer no. 1', verdict: 'good and blank' })
    await maker.api.shelf.inspect({
      pieceId: second.id,
      reader: 'Programmer no. 1',
      verdict: 'dead',
      symptom: 'no answer on any pin; the body gets warm',
    })
  }

  const day = (offset: number) => new Date(now + offset * DAY).toISOString().slice(0, 10)
  await maker.api.buildable.setReadyDay({ readyOn: day(7), benchDays: 3 })
  const { undated, designs: planned } = await maker.api.buildable.now()
  for (const { giftId } of undated) await volunteer.api.buildable.expectGift({ giftId, expectedOn: day(2) })
  const wren = planned.flatMap(({ units }) => units).find(({ tag }) => tag === 'WREN-03')
  if (wren) await maker.api.buildable.setImportance({ unitIds: [wren.unitId], importance: 1 })
}
