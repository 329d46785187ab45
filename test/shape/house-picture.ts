import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize } from 'node:path'
import ts from 'typescript'

export interface Storey {
  name: string
  rooms: string[]
}

/** Which rooms import from which, as `sale/lots → bench/units`; a storey without rooms is a room of that name. Types count. */
export function arrowsBetweenRooms(server: string, storeys: readonly Storey[]): Set<string> {
  const roomOf = (path: string): string => {
    const [storey = '', room = ''] = path.split('/')
    const has = storeys.find(({ name }) => name === storey)?.rooms ?? []
    return has.length === 0 ? storey : `${storey}/${room}`
  }
  const names = new Set(storeys.map(({ name }) => name))
  const arrows = new Set<string>()
  for (const file of readdirSync(server, { recursive: true, encoding: 'utf8' })) {
    if (!file.endsWith('.ts')) continue
    const { importedFiles } = ts.preProcessFile(readFileSync(join(server, file), 'utf8'), true, true)
    for (const { fileName } of importedFiles) {
      const path = fileName.startsWith('#') ? fileName.slice(1) : fileName.startsWith('.') ? normalize(join(dirname(file), fileName)) : ''
      if (!names.has(path.split('/')[0] ?? '')) continue
      const [from, to] = [roomOf(file), roomOf(path)]
      if (from !== to) arrows.add(`${from} → ${to}`)
    }
  }
  return arrows
}

const CELL = 15
const LEFT = 190
const TOP = 118

/**
 * The house from the roof down as SVG: a row for each room, a column for each room in the same order, a mark where the row
 * imports from the column. A mark left of the diagonal would be an import that goes up.
 */
export function drawHouse(storeys: readonly Storey[], arrows: ReadonlySet<string>): string {
  const floors = [...storeys].reverse().map(({ name, rooms }) => ({
    name,
    rooms: rooms.length === 0 ? [name] : [...rooms].reverse().map((room) => `${name}/${room}`),
  }))
  const rooms = floors.flatMap((floor) => floor.rooms)
  const size = rooms.length * CELL
  const parts: string[] = []
  let y = TOP
  for (const [index, floor] of floors.entries()) {
    const height = floor.rooms.length * CELL
    const x = LEFT + (y - TOP)
    parts.push(`<rect x="8" y="${y}" width="${LEFT + size - 8}" height="${height}" class="${index % 2 === 0 ? 'even' : 'odd'}"/>`)
    parts.push(`<rect x="${x}" y="${y}" width="${height}" height="${height}" class="own"/>`)
    parts.push(`<text x="14" y="${y + height / 2 + 4}" class="storey">${floor.name}</text>`)
    y += height
  }
  for (const [row, room] of rooms.entries()) {
    const middle = TOP + row * CELL + CELL / 2
    const name = room.split('/')[1] ?? ''
    parts.push(`<text x="${LEFT - 6}" y="${middle + 4}" class="room">${name}</text>`)
    parts.push(`<text transform="translate(${LEFT + row * CELL + CELL / 2 + 4} ${TOP - 6}) rotate(-90)">${name || room}</text>`)
    for (const [column, other] of rooms.entries()) {
      const x = LEFT + column * CELL + CELL / 2
      if (row === column) parts.push(`<circle cx="${x}" cy="${middle}" r="1.5" class="self"/>`)
      else if (arrows.has(`${room} → ${other}`))
        parts.push(
          `<circle cx="${x}" cy="${middle}" r="4.5" class="${column > row ? 'down' : 'up'}"><title>${room} imports from ${other}</title></circle>`,
        )
    }
  }
  const style =
    'text{font:11px sans-serif;fill:#2b2a26}.storey{font-weight:bold;font-size:12px}.room{text-anchor:end}.even{fill:#f6f3ea}.odd{fill:#ece7d9}.own{fill:none;stroke:#b9b09a}.down{fill:#8a4b23}.up{fill:#c00}.self{fill:#b9b09a}'
  const words = 'Each row is a room, from the roof to the ground. A mark means: this room imports from the room of that column.'
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${LEFT + size + 8} ${TOP + size + 30}" role="img" aria-label="The storeys and rooms of the house, and which room imports from which"><style>${style}</style><rect width="100%" height="100%" fill="#fffdf7"/>
${parts.join('\n')}
<text x="8" y="${TOP + size + 20}">${words}</text>
</svg>
`
}
