import { createRequire } from 'node:module'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { arrowsBetweenRooms, drawHouse, type Storey } from './house-picture'

const server = join(import.meta.dirname, '..', '..', 'server')
const { readStoreys } = createRequire(import.meta.url)('./storeys.cjs') as { readStoreys(): Storey[] }
const storeys = readStoreys()

// `npm run picture` draws it again.
test('server/house.svg shows the house as it is', async () => {
  await expect(drawHouse(storeys, arrowsBetweenRooms(server, storeys))).toMatchFileSnapshot(join(server, 'house.svg'))
})

test('nothing in the picture goes up', () => {
  const order = storeys.flatMap(({ name, rooms }) => (rooms.length === 0 ? [name] : rooms.map((room) => `${name}/${room}`)))
  const upward = [...arrowsBetweenRooms(server, storeys)].filter((arrow) => {
    const [from = '', to = ''] = arrow.split(' → ')
    return order.indexOf(to) > order.indexOf(from)
  })
  expect(upward).toEqual([])
})
