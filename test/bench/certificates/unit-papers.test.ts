import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { boxCode } from '#bench/certificates/home.service'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeTestedUnit } from '#test/make/certified-unit'
import { codesOf, openPdf, pagesOf, scanQr } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

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
