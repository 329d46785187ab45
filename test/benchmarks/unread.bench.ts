import { test } from 'vitest'
import { openStream } from '#test/make/stream'
import { openBenchHouse, print } from './open-house'

// 500 readers that never read beside 100 that say now and then that they do: when are the first let go, and do the others stay?
const UNREAD = 500
const HONEST = 100
const SECONDS = 60

test('streams that nobody reads', { timeout: 120_000 }, async () => {
  const house = await openBenchHouse(1)
  const open = (n: number) => openStream(house.url, `/live?topics=lot:${house.lots[0]}`, { 'x-forwarded-for': `10.2.${n >> 4}.1` })
  const unread = Array.from({ length: UNREAD }, (_, n) => open(n))
  const honest = Array.from({ length: HONEST }, (_, n) => open(UNREAD + n))
  while (![...unread, ...honest].every(({ token }) => token() !== '')) await new Promise((resolve) => setTimeout(resolve, 20))
  for (const one of unread) one.stopReading()
  const began = performance.now()
  let gone: number | null = null
  for (let second = 1; second <= SECONDS; second++) {
    await new Promise((resolve) => setTimeout(resolve, 1000))
    if (second % 10 === 0) await Promise.all(honest.map((one) => fetch(`${house.url}/live/here?stream=${one.token()}`, { method: 'POST' })))
    const { watching } = await house.state()
    if (gone === null && watching <= HONEST) gone = (performance.now() - began) / 1000
  }
  const { watching } = await house.state()
  print(
    `${UNREAD} readers that never read: all let go after ${gone?.toFixed(0) ?? `more than ${SECONDS}`} s; of ${HONEST} that say that they read ${watching} are there after ${SECONDS} s`,
  )
  for (const one of [...unread, ...honest]) one.close()
  await house.close()
})
