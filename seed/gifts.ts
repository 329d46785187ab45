import { DAY, HOUR } from '#kernel/instant'
import { readProgrammed } from './bench'
import { DONORS } from './cast'
import type { Runs } from './designs'
import { drawParcel } from './pictures'
import { keepPhotograph, nextKey, type Person, type Telling } from './stage'

/** Displays that come with the first parcel: enough for one clock. Six more are promised, and on their way. */
const DISPLAYS_SO_FAR = 6

const LATE = [
  { name: 'Hollin and Daughter', kind: 'resistor', quantity: 40, ago: 60 * HOUR },
  { name: 'Bram Osei', kind: 'capacitor', quantity: 20, ago: 54 * HOUR },
  { name: 'Sefu Marlow', kind: 'other', quantity: 2, ago: 49 * HOUR },
] as const

export interface Given {
  donorIds: Map<string, string>
  designs: Runs
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
    goTo(now - 40 * DAY + index * 20 * HOUR + 5 * HOUR)
    await thank(volunteer, id)
  }
  for (const part of parts) await telling.house.queue.run((turn) => readProgrammed(turn, maker, part.id))

  goTo(now - 21 * DAY)
  const ines = donorIds.get('Ines Abreu') ?? ''
  const display = parts.find((part) => part.kind === 'display' && part.name.includes('amber'))
  if (display) {
    const promised = await volunteer.api.gifts.add({ donorId: ines, kind: 'parts', partId: display.id, quantity: 6 })
    await volunteer.api.gifts.move({ giftId: promised.id, to: 'on its way', reason: '' })
    const club = donorIds.get('Tideway Radio Club') ?? ''
    await volunteer.api.gifts.add({
      donorId: club,
      kind: 'labour',
      words: 'an afternoon of alignment',
      minutes: 240,
      onlyForDesignId: designs.designIds.get('saltmarsh-sr3'),
    })
    await thank(volunteer, club)
  }
  return { donorIds, designs }
}

/** Three came once more, two days ago and a little longer, and wait to be thanked. */
export async function tellLateParcels(telling: Telling, volunteer: Person, { donorIds, designs }: Given): Promise<void> {
  const { now, goTo, say } = telling
  say('three late parcels')
  const parts = await volunteer.api.parts.list()
  for (const { name, kind, quantity, ago } of LATE) {
    const { marking } = DONORS.find((donor) => donor.name === name) ?? { marking: '' }
    const part = parts.find((one) => one.kind === kind && designs.needs.has(one.id))
    if (!part) continue
    goTo(now - ago)
    // The first was put away before anybody thought of a photograph.
    const photoSha = name === LATE[0].name ? undefined : await keepPhotograph(telling, volunteer, await drawParcel(quantity))
    await volunteer.api.parcels.log({
      key: nextKey(),
      donorId: donorIds.get(name) ?? '',
      lines: [{ partId: part.id, quantity, marking, dateCode: '' }],
      photoSha,
      note: 'A few more, to be on the safe side.',
    })
  }
}

/** With the letter that the facts make; by hand where no address is known. */
async function thank({ api }: Person, donorId: string): Promise<void> {
  const { donor, thanks } = await api.outcome.donorPage({ donorId })
  if (thanks) await api.outcome.thank({ donorId, giftIds: thanks.giftIds, byHand: donor.contact === '', ...thanks.draft })
}
