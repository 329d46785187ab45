import { afterEach, expect, test, vi } from 'vitest'
import { limitIn, openOpenFiles } from '#runtime/live/open-files'
import { openLog } from '#runtime/settings/log'
import { openBenchHouse } from '#test/benchmarks/open-house'
import { openStream, type RawStream } from '#test/make/stream'

const open: RawStream[] = []
afterEach(() => {
  for (const one of open.splice(0)) one.close()
})

test('the limit is read as Linux writes it, and where nothing is written there is none', () => {
  expect(
    limitIn(
      'Limit                     Soft Limit           Hard Limit           Units\nMax open files            1024                 524288               files\n',
    ),
  ).toBe(1024)
  expect(limitIn('Max open files            unlimited            unlimited            files')).toBeNull()
  expect(limitIn('')).toBeNull()
  expect(openOpenFiles(openLog('silent'), null).hasRoom(1_000_000)).toBe(true)
})

test.each([
  [1_024, 921],
  [20_000, 18_000],
  [256, 156],
])('of %i files some are kept: %i may be streams', (limit, streams) => {
  const files = openOpenFiles(openLog('silent'), limit)
  expect(files.hasRoom(streams - 1)).toBe(true)
  expect(files.wasShort()).toBe(false)
  expect(files.hasRoom(streams)).toBe(false)
  expect(files.wasShort()).toBe(true)
  expect(files.mostConnections).toBeLessThan(limit)
  expect(files.mostConnections).toBeGreaterThan(streams)
})

test('that screens are turned away is logged once a minute, with what to do', () => {
  const log = openLog('silent')
  const warned = vi.spyOn(log, 'warn')
  const files = openOpenFiles(log, 1_024)
  for (let n = 0; n < 50; n++) files.hasRoom(921)
  expect(warned).toHaveBeenCalledOnce()
  expect(warned.mock.calls[0]?.join()).toContain('LimitNOFILE')
})

test('a house that may hold 512 files open turns further screens away in words, takes bids beside them, and is not worn out by lines it cannot take', async () => {
  const house = await openBenchHouse(1, ['/bin/sh', '-c', 'ulimit -n 512; exec "$0" "$@"'])
  try {
    const from = (n: number) => ({ 'x-forwarded-for': `10.1.${Math.floor(n / 10)}.1` })
    for (let n = 0; n < 520; n++) {
      open.push(openStream(house.url, `/live?topics=lot:${house.lots[0]}`, from(n)))
      if (n % 20 === 19) await new Promise((resolve) => setTimeout(resolve, 20))
    }
    await expect.poll(() => open.filter(({ heard }) => heard.startsWith('HTTP/1.1 200')).length).toBe(412)
    await expect.poll(() => open.every(({ heard, isOver }) => heard !== '' || isOver)).toBe(true)
    const refused = open.filter(({ heard }) => heard.startsWith('HTTP/1.1 503'))
    expect(refused.length).toBeGreaterThan(0)
    expect(refused[0]?.heard.toLowerCase()).toContain('retry-after: 10')
    expect(refused[0]?.heard).toContain('More screens are open')
    for (const one of refused) one.close()
    // Lines on which nothing is asked, more than there are files left.
    const idle = Array.from({ length: 200 }, () => openStream(house.url, '/api/now\r\nIgnored', {}))
    open.push(...idle)
    const began = performance.now()
    const before = (await house.state()).cpu
    await new Promise((resolve) => setTimeout(resolve, 500))
    const after = await house.state()
    const computed = (after.cpu.user + after.cpu.system - before.user - before.system) / 1000
    expect(computed / (performance.now() - began)).toBeLessThan(0.9)
    expect(after.watching).toBe(412)
    for (const one of idle) one.close()
    const bid = () => house.bid(house.cookies[0] ?? '', house.lots[0] ?? 0)
    // The house hears of the lines that were closed in its own time.
    await expect.poll(async () => (await bid().catch(() => null))?.status).toBe(200)
    for (const one of open.splice(0)) one.close()
    await expect.poll(async () => (await house.state()).watching).toBe(0)
    open.push(openStream(house.url, `/live?topics=lot:${house.lots[0]}`, from(1)))
    await expect.poll(() => open[0]?.heard ?? '').toContain('event: lot:')
  } finally {
    await house.close()
  }
})
