import { afterEach, describe, expect, it } from 'vitest'
import { readFeeds } from '#bench/designs/feeds.rules'
import { feedCells } from '#bench/designs/written.rules'
import { stillTrue } from '#bench/faults/observations.rules'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage?.close())
let keys = 0
const seen = (over: object = {}) => ({
  key: `inside-${++keys}`,
  tag: 'TERN-01',
  place: 'Q1 base',
  found: '1.0 V',
  isGood: true,
  isPowered: true,
  ...over,
})

async function failing() {
  stage = openStage()
  await makeBench(stage)
  await bringUpUnit(stage, 'TERN-01', undefined, { B21: '12.5' })
  return stage.as('maker')
}
const share = async (block: string) =>
  (await (await stage.as('maker')).faults.search({ tag: 'TERN-01' })).suspects.find((one) => one.block === block)?.share ?? 0

describe('the suspected block from within', () => {
  it('shows its parts with their batch and what is known of it', async () => {
    const maker = await failing()
    const { inside } = await maker.faults.search({ tag: 'TERN-01' })
    expect(inside.block).toBe('front end')
    expect(inside.pieces.length).toBeGreaterThan(2)
    for (const { batch, history } of inside.pieces) {
      expect(batch).toMatch(/^B-\d{4}/)
      expect(history[0]).toMatch(/^\d+ bad of \d+ that were looked at or fitted$/)
    }
  })

  it('is suspected less after something good was seen in it, and more after something bad', async () => {
    const maker = await failing()
    const before = await share('front end')
    await maker.faults.observe(seen())
    const good = await share('front end')
    expect(good).toBeLessThan(before)
    await maker.faults.observe(seen({ place: 'Q1 collector', found: '0.0 V', isGood: false }))
    await maker.faults.observe(seen({ place: 'J2 centre', found: 'nothing passes', isGood: false }))
    expect(await share('front end')).toBeGreaterThan(good)
    const { observations } = await maker.faults.search({ tag: 'TERN-01' })
    expect(observations.map(({ place, block, counts }) => [place, block, counts])).toEqual([
      ['J2 centre', 'front end', true],
      ['Q1 collector', 'front end', true],
      ['Q1 base', 'front end', true],
    ])
  })

  it('asks for the block where the place names none', async () => {
    const maker = await failing()
    expect((await refusedAt(maker.faults.observe(seen({ place: 'behind the dial' })))).block).toBe(
      'Choose the block that the place belongs to.',
    )
    await maker.faults.observe(seen({ place: 'behind the dial', block: 'front end' }))
  })

  it('has test points as they were written at the bench, for every unit of the design', async () => {
    const maker = await failing()
    await maker.faults.setPoint({ tag: 'TERN-02', point: 'Q1 base', expects: '0.9 V' })
    await maker.faults.setPoint({ tag: 'TERN-02', point: 'Q1 base', expects: '1.0 V' })
    expect((await maker.faults.search({ tag: 'TERN-01' })).inside.points).toEqual([
      { point: 'Q1 base', block: 'front end', expects: '1.0 V' },
    ])
  })

  it('says which point to probe next: the first at which nothing was seen that still counts', async () => {
    const maker = await failing()
    for (const point of ['Q1 base', 'Q1 collector'])
      await maker.faults.setPoint({ tag: 'TERN-01', point, block: 'front end', expects: '1.0 V' })
    const next = async () => (await maker.faults.search({ tag: 'TERN-01' })).inside
    const [first, second] = (await next()).points.map(({ point }) => point)
    expect((await next()).nextPoint).toBe(first)
    await maker.faults.observe(seen({ place: first, found: '0.2 V', isGood: false }))
    expect((await next()).nextPoint).toBe(second)
    await maker.faults.observe(seen({ place: second, found: '0.1 V', isGood: false }))
    expect((await next()).nextPoint).toBeNull()
  })
})

it('what was seen counts until a change could have touched it', () => {
  const one = { id: 'a', at: 10, block: 'audio', isGood: true, isPowered: true }
  const feeds = [{ from: 'supply', to: 'audio', kind: 'power' as const }]
  expect(stillTrue([one], [{ at: 9, blocks: ['audio'] }], feeds)).toEqual([one])
  expect(stillTrue([one], [{ at: 11, blocks: ['audio'] }], feeds)).toEqual([])
  expect(stillTrue([one], [{ at: 11, blocks: ['supply'] }], feeds)).toEqual([])
  expect(stillTrue([one], [{ at: 11, blocks: ['clock'] }], feeds)).toEqual([one])
})

it('a list of feeds can say where its wires are probed and what to expect, and is written out as it was read', () => {
  const row = (line: number, cells: Record<string, string>) => ({ line, cells })
  const { feeds, blocks, flaws } = readFeeds([
    row(2, { from: 'supply', to: 'audio', kind: 'power', 'test point': 'TP3', expect: '9.0 V' }),
    row(3, { from: 'audio', to: 'speaker', kind: 'signal', 'test point': 'TP4', expect: '' }),
  ])
  expect(feeds[0]?.feed).toEqual({ from: 'supply', to: 'audio', kind: 'power', point: 'TP3', expects: '9.0 V' })
  expect(flaws).toMatchObject([{ line: 3, column: 'expect' }])
  const written = feedCells(
    blocks,
    feeds.map(({ feed }) => feed),
  )
  expect(readFeeds(written.map((cells, index) => row(index + 2, cells))).feeds[0]?.feed).toEqual(feeds[0]?.feed)
})
