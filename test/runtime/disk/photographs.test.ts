import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { Refusal } from '#kernel/refusal'
import { openPhotographs } from '#runtime/disk/files'
import { openPixelGate, type PixelGate } from '#runtime/disk/pixel-gate'

const later = <T>(made: T) => new Promise<T>((resolve) => setTimeout(() => resolve(made), 5))

describe('the gate', () => {
  test('lets in so many pixels at a time, in the order of asking', async () => {
    const gate = openPixelGate(100)
    let inside = 0
    let most = 0
    const order: number[] = []
    await Promise.all(
      [60, 30, 40, 90, 10, 10].map((pixels, index) =>
        gate.through(pixels, async () => {
          inside += pixels
          most = Math.max(most, inside)
          order.push(index)
          await later(null)
          inside -= pixels
        }),
      ),
    )
    expect(most).toBeLessThanOrEqual(100)
    expect(order).toEqual([0, 1, 2, 3, 4, 5])
  })

  test('lets in one that is larger than all, alone, and goes on after a work that failed', async () => {
    const gate = openPixelGate(100)
    const failed = gate.through(50, () => Promise.reject(new Error('no picture')))
    const large = gate.through(500, () => later('large'))
    const next = gate.through(10, () => later('next'))
    await expect(failed).rejects.toThrow('no picture')
    expect(await large).toBe('large')
    expect(await next).toBe('next')
  })
})

describe('photographs', () => {
  let dir: string
  beforeEach(() => {
    dir = mkdtempSync(join(tmpdir(), 'tagstrip-photographs-'))
  })
  afterEach(() => rmSync(dir, { recursive: true }))

  const picture = (width: number, height: number, colour = '#97461a') =>
    sharp({ create: { width, height, channels: 3, background: colour } })
      .jpeg()
      .toBuffer()

  test('are worked on by their pixels: never more than there is room for, however many come at once', async () => {
    let inside = 0
    let most = 0
    const real = openPixelGate(1_000_000)
    const gate: PixelGate = {
      through: (pixels, work) =>
        real.through(pixels, async () => {
          inside += pixels
          most = Math.max(most, inside)
          return work().finally(() => {
            inside -= pixels
          })
        }),
    }
    const folder = openPhotographs(dir, gate)
    const pictures = await Promise.all([600, 700, 800, 900, 1000].map((width) => picture(width, 600)))
    const kept = await Promise.all(pictures.map((bytes) => folder.keep(bytes)))
    expect(kept.map(({ width }) => width)).toEqual([600, 700, 800, 900, 1000])
    expect(most).toBeGreaterThanOrEqual(600 * 600)
    expect(most).toBeLessThanOrEqual(1_000_000)
  })

  test('ten at once are kept, and what comes beside them is told to come again', async () => {
    const folder = openPhotographs(dir)
    const pictures = await Promise.all(Array.from({ length: 14 }, (_, n) => picture(640, 400 + n)))
    const answers = await Promise.allSettled(pictures.map((bytes) => folder.keep(bytes)))
    expect(answers.filter(({ status }) => status === 'fulfilled')).toHaveLength(10)
    for (const answer of answers.slice(10)) {
      const reason = (answer as PromiseRejectedResult).reason as Refusal
      expect(reason).toBeInstanceOf(Refusal)
      expect([reason.code, reason.message]).toEqual(['too-many', expect.stringContaining('Send it again in a minute')])
    }
    expect(await folder.keep(pictures[13] as Buffer)).toMatchObject({ width: 640, height: 413 })
  })

  test('one that is sent ten times at once is kept once, and each time told', async () => {
    const folder = openPhotographs(dir)
    const bytes = await picture(900, 600)
    const kept = await Promise.all(Array.from({ length: 10 }, () => folder.keep(bytes)))
    expect(new Set(kept.map(({ sha }) => sha)).size).toBe(1)
    expect(readdirSync(dir)).toHaveLength(3)
  })

  test('one that the camera turned is kept upright, with its measures as it is seen', async () => {
    const folder = openPhotographs(dir)
    const turned = await sharp({ create: { width: 900, height: 500, channels: 3, background: '#97461a' } })
      .withMetadata({ orientation: 6 })
      .jpeg()
      .toBuffer()
    const kept = await folder.keep(turned)
    expect([kept.width, kept.height]).toEqual([500, 900])
    const { width, height, orientation } = await sharp(readFileSync(folder.find(kept.sha, 960) ?? '')).metadata()
    expect([width, height, orientation]).toEqual([500, 900, undefined])
  })

  test('one of more than 64 million pixels is refused in words, before it is decoded', async () => {
    const folder = openPhotographs(dir)
    const large = await sharp({ create: { width: 9000, height: 8000, channels: 3, background: '#000' }, limitInputPixels: false })
      .png()
      .toBuffer()
    await expect(folder.keep(large)).rejects.toThrow('64 million pixels at most')
    expect(readdirSync(dir)).toEqual([])
  })
})

describe('a disk that is nearly full', () => {
  let dir: string
  beforeEach(() => {
    dir = mkdtempSync(join(tmpdir(), 'tagstrip-photographs-'))
  })
  afterEach(() => rmSync(dir, { recursive: true }))

  test('takes no photograph, in words, and takes it when there is room', async () => {
    let free = 10_000_000
    const folder = openPhotographs(dir, undefined, () => free)
    const picture = await sharp({ create: { width: 20, height: 20, channels: 3, background: '#484' } })
      .png()
      .toBuffer()
    await expect(folder.keep(picture)).rejects.toMatchObject({
      code: 'no-room',
      message: expect.stringContaining('until there is room'),
    })
    expect(readdirSync(dir)).toEqual([])
    free = 10_000_000_000
    await folder.keep(picture)
    expect(readdirSync(dir)).toHaveLength(3)
  })

  test('what was being written when a house ended is swept when the next one opens', () => {
    writeFileSync(join(dir, 'abc-480.webp.part'), 'half')
    openPhotographs(dir)
    expect(readdirSync(dir)).toEqual([])
  })
})
