import { DAY, HOUR } from '../server/kernel/instant'
import { readProgrammed } from './bench'
import { DONORS } from './cast'
import type { Runs } from './designs'
import { nextKey, type Person, type Telling } from './stage'

/** Displays that come with the first parcel: enough for one clock. Six more are promised, and on their way. */
const DISPLAYS_SO_FAR = 6

export interface Given {
  donorIds: Map<string, string>
}

/** The parcels: each donor sends the kinds of parts that are theirs, as many as the runs need and a few to spare. */
export async function tellGifts(
  telling: Telling,
  { volunteer, maker }: { volunteer: Person; maker: Person },
  designs: Runs,
): Promise<Given> {
  const { now, goTo, say } = telling
  say('donors and their parcels')
  const parts = await maker.api.parts.list()
  const kindOf = new Map(parts.map((part) => [part.id, part]))
  const donorIds = new Map<string, string>()
  for (const [index, { sends, marking, note, ...donor }] of DONORS.entries()) {
    goTo(now - 40 * DAY + index * 20 * HOUR)
    const { id } = await volunteer.api.donors.add(donor)
    donorIds.set(donor.name, id)
    const lines = [...designs.needs].flatMap(([partId, quantity]) => {
      const part = kindOf.get(partId)
      if (!part || !sends.includes(part.kind)) return []
      const isShort = part.kind === 'display' && part.name.includes('amber')
      const spare = part.kind === 'board' || part.kind === 'case' || part.programmed ? 0 : Math.ceil(quantity / 10)
      return [{ partId, quantity: isShort ? DISPLAYS_SO_FAR : quantity + spare, marking, dateCode: '' }]
    })
    // Forty lines are the most that one parcel is logged with.
    for (let from = 0; from < lines.length; from += 40) {
      await volunteer.api.parcels.log({ key: nextKey(), donorId: id, lines: lines.slice(from, from + 40), note })
    }
  }
  for (const part of parts) await telling.house.queue.run((turn) => readProgrammed(turn, maker, part.id))

  goTo(now - 12 * DAY)
  const ines = donorIds.get('Ines Abreu') ?? ''
  const display = parts.find((part) => part.kind === 'display' && part.name.includes('amber'))
  if (display) {
    await volunteer.api.donors.addGift({ donorId: ines, kind: 'parts', partId: display.id, quantity: 6 })
    await volunteer.api.donors.addGift({
      donorId: donorIds.get('Tideway Radio Club') ?? '',
      kind: 'labour',
      words: 'an afternoon of alignment',
      minutes: 240,
      onlyForDesignId: designs.designIds.get('saltmarsh-sr3'),
    })
  }
  return { donorIds }
}
