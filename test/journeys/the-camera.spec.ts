import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium } from '@playwright/test'
import sharp from 'sharp'
import { QUIET_MODULES, qrModules } from '#paper/qr'
import { pieceTag } from '#stock/shelf/piece.rules'
import { expect, expectAccessible, stepInto, test, watch } from './journey'

const [WIDTH, HEIGHT] = [640, 480]

/** What a camera sees of a label held a little askew and not quite sharp: uncompressed video (YUV4MPEG2, 4:2:0), grey. */
async function filmOf(code: string): Promise<Buffer> {
  const rows = qrModules(code)
  const side = rows.length + 2 * QUIET_MODULES
  const paper = Buffer.alloc(side * side, 255)
  for (const [y, row] of rows.entries())
    for (const [x, dark] of row.entries()) if (dark) paper[(y + QUIET_MODULES) * side + x + QUIET_MODULES] = 0
  const print = sharp(paper, { raw: { width: side, height: side, channels: 1 } }).resize({ width: side * 16, kernel: 'nearest' })
  const askew = sharp(await print.png().toBuffer()).rotate(9, { background: '#8a8378' })
  const held = await sharp(await askew.png().toBuffer())
    .resize({ width: 300 })
    .blur(0.8)
    .toBuffer()
  const grey = await sharp({ create: { width: WIDTH, height: HEIGHT, channels: 3, background: '#8a8378' } })
    .composite([{ input: held, left: 150, top: 60 }])
    .removeAlpha()
    .greyscale()
    .raw()
    .toBuffer()
  const frame = Buffer.concat([Buffer.from('FRAME\n'), grey, Buffer.alloc((WIDTH * HEIGHT) / 2, 128)])
  return Buffer.concat([Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`), ...Array.from({ length: 10 }, () => frame)])
}

test('a label held before the camera opens its piece', async ({ house }, info) => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-film-'))
  const film = join(dir, 'label.y4m')
  writeFileSync(film, await filmOf(`${house.url}/bench/pieces/${pieceTag(1)}`))
  const { launchOptions, ...device } = info.project.use
  const browser = await chromium.launch({
    ...launchOptions,
    args: [
      ...(launchOptions?.args ?? []),
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ],
  })
  try {
    const context = await browser.newContext({ viewport: device.viewport ?? null, locale: 'en-GB', timezoneId: 'Europe/London' })
    const { page, errors } = await watch(context)
    await stepInto(page, house, 'Tobi Lark')
    await page.goto(`${house.url}/bench/scan`)
    await expectAccessible(page)
    await page.getByRole('button', { name: 'Open the camera' }).click()
    await expect(page.getByRole('heading', { name: `Piece ${pieceTag(1)}` })).toBeAttached()
    expect(new URL(page.url()).pathname).toBe(`/bench/pieces/${pieceTag(1)}`)
    expect(errors).toEqual([])
  } finally {
    await browser.close()
    rmSync(dir, { recursive: true, force: true })
  }
})
