import { expect, test } from 'vitest'
import { setPackingList } from '#money/sending/packing-paper'
import { wordsOf } from '#test/paper/read-pdf'

const common = { size: 'letter', author: 'Long Bench', at: Date.UTC(2027, 2, 14) } as const

test('the packing list names all that goes in, with a box to tick for each', async () => {
  const items = [
    { what: 'TERN-03, Saltmarsh SR-3', note: 'TS-2027-0147-M' },
    { what: 'A spare coil', note: 'extra' },
  ]
  const words = await wordsOf(
    await setPackingList({
      ...common,
      of: 'packing',
      lot: 7,
      title: 'A receiver',
      items,
      facts: [['Weight', '900 g']],
      cautions: ['12 V only.'],
    }),
  )
  for (const phrase of ['LOT 7', 'Packing list', 'TERN-03, Saltmarsh SR-3', 'A spare coil', '900 g', '12 V only.', 'page 1 of 1'])
    expect(words).toContain(phrase)
})
