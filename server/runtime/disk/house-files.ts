import { SPARE_FILE } from './spare'

/** The name of the database in a data folder. */
export const DATABASE = 'tagstrip.db'

/** Beside the database: which heads it held last, by which it is noticed that its end was cut off. It belongs to this one database. */
export const NOTED_HEADS = 'heads.json'

/** What a house is: these leave the folder, and come back to it, together. */
export const OF_A_HOUSE = [
  DATABASE,
  `${DATABASE}-wal`,
  `${DATABASE}-shm`,
  `${DATABASE}-journal`,
  NOTED_HEADS,
  `${NOTED_HEADS}.new`,
  'keys',
  'photographs',
] as const

/** Whether a name is that of a photograph at one of its widths, of a recording, a sweep or an image of firmware: all lie in the folder of photographs. */
export const isKeptFile = (name: string): boolean => /^[\da-f]{64}(?:-\d{1,5}\.webp|\.(?:mp4|webm|m4a|mp3|ogg|wav|csv|bin))$/.test(name)

/** What is needed to keep a copy elsewhere: what Litestream is told and remembers, and what waits to be sent. */
export const ELSEWHERE = 'elsewhere'

/** What else a house keeps in its data folder. It stays there whichever house stands in it. */
const BESIDE_A_HOUSE: ReadonlySet<string> = new Set([
  ...['backups', 'packs', 'rehearsals', 'notes.jsonl', 'manifest.json'],
  ...['house.lock', 'swap.json', 'swap.json.new', SPARE_FILE, `${SPARE_FILE}.part`, ELSEWHERE],
])

const FORMER_OR_INCOMING = /^(former|incoming|fetched)-[\dTZ-]+$/
const HELD_BY = /^held-by-\d+-\d+\.json$/

/** Whether something in a data folder is the house's. Whatever else lies there is somebody else's. */
export const isOfTheHouse = (name: string): boolean =>
  OF_A_HOUSE.some((one) => one === name) || BESIDE_A_HOUSE.has(name) || FORMER_OR_INCOMING.test(name) || HELD_BY.test(name)

/** An instant as it stands in names of folders. */
export const stampOf = (at: number): string => new Date(at).toISOString().replaceAll(/[:.]/g, '-')
