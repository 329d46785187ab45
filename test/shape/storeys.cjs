// The storeys of the house and the rooms in each, from the ground up, read out of the table in DEVELOPERS.md: that table
// is the only place in which the order is written, so it cannot disagree with the rules that are made from it.
const { readFileSync } = require('node:fs')
const { join } = require('node:path')

const TABLE = readFileSync(join(__dirname, '..', '..', 'DEVELOPERS.md'), 'utf8')

/** @returns {{ name: string, rooms: string[] }[]} A storey without rooms holds its files itself. */
function readStoreys(text = TABLE) {
  const [, table = ''] = /<!-- storeys -->\n([\s\S]*?)\n<!-- end of storeys -->/.exec(text) ?? []
  const rows = table.split('\n').filter((line) => /^\| `/.test(line))
  return rows.map((row) => {
    const [, storey = '', rooms = ''] = row.split('|')
    const names = (cell) => [...cell.matchAll(/`([\w-]+)`/g)].map(([, name]) => name)
    return { name: names(storey)[0] ?? '', rooms: names(rooms) }
  })
}

/** One rule for each storey and room that has something above it: what stands above is not imported, types included. */
function storeyRules(storeys = readStoreys()) {
  const upward = storeys.slice(0, -1).map(({ name }, index) => ({
    name: `storey-${name}`,
    comment: `An import goes down or stays within its storey: nothing in ${name} knows what stands above it.`,
    severity: 'error',
    from: { path: `^server/${name}/` },
    to: {
      path: `^server/(${storeys
        .slice(index + 1)
        .map((above) => above.name)
        .join('|')})/`,
    },
  }))
  const sideways = storeys.flatMap(({ name, rooms }) =>
    rooms.slice(0, -1).map((room, index) => ({
      name: `room-${name}-${room}`,
      comment: `The rooms of ${name} stand on each other in the order of the table, so no two of them need each other.`,
      severity: 'error',
      from: { path: `^server/${name}/${room}/` },
      to: { path: `^server/${name}/(${rooms.slice(index + 1).join('|')})/` },
    })),
  )
  return [...upward, ...sideways]
}

module.exports = { readStoreys, storeyRules }
