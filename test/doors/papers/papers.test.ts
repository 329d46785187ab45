import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { boxCode } from '#bench/certificates/home.service'
import { setPaper } from '#doors/papers/papers'
import type { PaperOrder } from '#paper/order'
import { makeTestedUnit } from '#test/make/certified-unit'
import { codesOf, openPdf, pagesOf, scanQr } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from '../web/open-door'

let stage: Stage
let unit: Awaited<ReturnType<typeof makeTestedUnit>>
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeAll(async () => {
  stage = openStage({ now: Date.now() })
  unit = await makeTestedUnit(stage)
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
const pdfOf = async (answer: Response) => openPdf(Buffer.from(await answer.arrayBuffer()))
const wordsOf = async (order: PaperOrder) => (await pagesOf(await openPdf(await setPaper(order)))).join('\n').replaceAll(/\s+/g, ' ')

describe('the card for the box', () => {
  test('is A6, names the unit, its certificate and the key, and its code leads to the home checks of that box', async () => {
    const pdf = await pdfOf(await get(`/bench/units/${unit.tag}/card.pdf`, 'maker'))
    expect(pdf.numPages).toBe(1)
    const [, , width = 0, height = 0] = (await pdf.getPage(1)).view
    expect([Math.round(width), Math.round(height)]).toEqual([298, 420])
    const words = (await pagesOf(pdf)).join(' ')
    const code = boxCode(stage.sight(), unit.tag)
    for (const phrase of [unit.tag, unit.serial, code, 'page 1 of 1']) expect(words).toContain(phrase)
    expect((await scanQr(pdf)).text).toBe(`https://bench.example/units/${unit.tag}/home?box=${code}`)
  })

  test.each([
    [null, 401],
    ['bidder', 403],
  ] as const)('is not given to %s: it has the code of the box on it', async (role, status) => {
    expect((await get(`/bench/units/${unit.tag}/card.pdf`, role)).status).toBe(status)
  })

  test('of a unit that does not exist is nothing, in words', async () => {
    expect((await get('/bench/units/NONE-99/card.pdf', 'maker')).status).toBe(404)
  })
})

test('the label of a unit leads to its record', async () => {
  const pdf = await pdfOf(await get(`/bench/units/${unit.tag}/label.pdf?paper=roll`, 'maker'))
  expect(await codesOf(pdf)).toHaveLength(1)
  expect((await scanQr(pdf, 203)).text).toBe(`https://bench.example/units/${unit.tag}`)
})

const common = { size: 'letter', author: 'Long Bench', at: Date.UTC(2027, 2, 14) } as const

test('the packing list names all that goes in, with a box to tick for each', async () => {
  const items = [
    { what: 'TERN-03, Saltmarsh SR-3', note: 'TS-2027-0147-M' },
    { what: 'A spare coil', note: 'extra' },
  ]
  const words = await wordsOf({
    ...common,
    of: 'packing',
    lot: 7,
    title: 'A receiver',
    items,
    facts: [['Weight', '900 g']],
    cautions: ['12 V only.'],
  })
  for (const phrase of ['LOT 7', 'Packing list', 'TERN-03, Saltmarsh SR-3', 'A spare coil', '900 g', '12 V only.', 'page 1 of 1'])
    expect(words).toContain(phrase)
})

test('the invoice says what is owed, to whom, under which reference, and claims nothing about tax', async () => {
  const words = await wordsOf({
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
  })
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
    'no tax receipt',
    'stays yours',
  ])
    expect(words).toContain(phrase)
})

test('a lot that is not sold has no invoice, and nobody else’s is shown', async () => {
  expect((await get('/lots/7/invoice.pdf', 'bidder')).status).toBe(404)
  expect((await get('/lots/7/invoice.pdf', null)).status).toBe(401)
})

describe('the card for a donor', () => {
  test('names what was given and no value', async () => {
    const words = await wordsOf({
      ...common,
      of: 'donor-card',
      name: 'Ines Abreu',
      campaign: 'Long Bench Day',
      gifts: ['20 crystals: fitted'],
    })
    expect(words).toContain('Thank you, Ines Abreu')
    expect(words).toContain('20 crystals: fitted')
  })

  test('is not printed for a donor who did not agree to one', async () => {
    const maker = await stage.as('maker')
    const donor = await maker.donors.add({
      name: 'Ines Abreu',
      creditName: 'Ines Abreu',
      sayIt: '',
      contact: '',
      anonymity: 'named',
      consents: { page: true, stream: true, card: false },
    })
    const answer = await get(`/bench/donors/${donor.id}/card.pdf`, 'maker')
    expect(answer.status).toBe(400)
    expect(await answer.text()).toContain('has not agreed')
  })
})
