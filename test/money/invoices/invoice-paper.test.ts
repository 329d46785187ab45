import { afterAll, beforeAll, expect, test } from 'vitest'
import { setInvoice } from '#money/invoices/invoice-paper'
import { openStageDoor } from '#test/doors/web/open-door'
import { wordsOf } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeAll(async () => {
  stage = openStage({ now: Date.now() })
  door = await openStageDoor(stage)
}, 60_000)
afterAll(() => {
  door.close()
  stage.close()
})

const get = async (path: string, role: 'maker' | 'bidder' | null) => {
  const cookie = role === null ? '' : await door.sessionOf((await stage.actor(role)).personId)
  return fetch(door.url + path, { headers: { cookie } })
}
const common = { size: 'letter', author: 'Long Bench', at: Date.UTC(2027, 2, 14) } as const

test('the invoice says what is owed, to whom, under which reference, and claims nothing about tax', async () => {
  const words = await wordsOf(
    await setInvoice({
      ...common,
      of: 'invoice',
      lot: 7,
      title: 'A receiver',
      unit: 'TERN-03',
      buyer: 'Ada Quill',
      seller: 'Long Bench',
      sellerAddress: '1 Slip Lane',
      sellerKind: 'a private person',
      cause: 'Ferry Lane Repair School; 90 % of the price goes to it.',
      estimate: '£120.00 to £240.00',
      lines: [
        ['Hammer price', '£165.00'],
        ['Postage', '£12.00'],
      ],
      owed: '£177.00',
      received: '£0.00',
      reference: 'RF18 5390 0754',
      dueOn: '20 March 2027',
      isPaid: false,
      account: { name: 'Long Bench', iban: 'GB82 WEST 1234 5698 7654 32', bic: '' },
      payment: null,
      howToPay: 'By transfer.',
      cancelWords: '',
      soldOn: 'At auction, on 13 March 2027.',
    }),
  )
  for (const phrase of [
    'Invoice',
    'Ada Quill',
    '£165.00',
    'To pay: £177.00',
    'by 20 March 2027',
    '90 % of the price',
    '£120.00 to £240.00',
    'GB82 WEST',
    'RF18 5390 0754',
    'not a tax receipt',
    'You keep any rights',
  ])
    expect(words).toContain(phrase)
})

test('a lot that is not sold has no invoice, and nobody else’s is shown', async () => {
  expect((await get('/lots/7/invoice.pdf', 'bidder')).status).toBe(404)
  expect((await get('/lots/7/invoice.pdf', null)).status).toBe(401)
})
