import { campaign } from '#db/schema/index'
import { getCampaign } from '#people/campaign/campaign.service'
import { type listStaff, setRole, takePaddle } from '#people/people/people.service'
import type { Actor, Turn } from '#runtime/queue/turn'
import { openAsItIs } from '#sale/closings/opening.service'
import { changeLot, getLotRow, type LotRow, listLots } from '#sale/lots/lots.service'
import { gateOf } from '#sale/lots/prepare.service'
import { announceProgramme } from '#sale/programme/programme.service'
import type { House } from '../open/parts'

const BIDDERS = 12
const COUNTRIES = ['GB', 'NO', 'JP', 'US', 'DE', 'PT'] as const

/** Makes the copy ready to be played, once: it says on all its papers that it is a rehearsal, its lots open, its bidders are invented. */
export async function prepareCopy({ queue, clock }: House): Promise<string[]> {
  const told: string[] = []
  await queue.run((turn) => {
    turn.db
      .update(campaign)
      .set({ name: `Rehearsal: ${getCampaign(turn).name}` })
      .run()
    announceProgramme(turn)
  })
  const now = clock.now()
  const waiting = await queue.run((turn) => listLots(turn).filter(({ state }) => state === 'draft' || state === 'ready'))
  for (const { number, closesAt, soldWhere } of waiting) {
    if (closesAt === null) told.push(`Lot ${number} took no part: it has no time in the day.`)
    else if (closesAt <= now) told.push(`Lot ${number} took no part: its time had passed.`)
    else {
      const invented = await queue.run((turn) => openInRehearsal(turn, number))
      if (soldWhere === 'elsewhere') told.push(`Lot ${number} is sold elsewhere: its result was not rehearsed.`)
      if (invented !== '') told.push(`Lot ${number} took part with what it lacks invented: ${invented}.`)
    }
  }
  for (let number = 1; number <= BIDDERS; number++) {
    const [email, name] = [`bidder-${number}@rehearsal.example`, `Rehearsal bidder ${number}`]
    await queue.run((turn) => {
      const { personId } = setRole(turn, { email, role: 'bidder', name })
      const country = COUNTRIES[number % COUNTRIES.length] ?? 'GB'
      takePaddle(turn, { personId, role: 'bidder', name, email }, { name, country, acceptsRules: true })
    })
  }
  return told
}

/** What a lot has that is not prepared yet, so that its moment can be rehearsed. */
const INVENTED = { openingMinor: 1000, weightGrams: 1000, lengthMm: 200, widthMm: 150, heightMm: 100 }

/** Opens a lot of the copy; what its gate misses is invented there, and named. */
function openInRehearsal(turn: Turn, number: number): string {
  const row = getLotRow(turn, number)
  const missing = gateOf(turn, row)
  const { openingMinor, weightGrams, lengthMm, widthMm, heightMm } = { ...INVENTED, ...given(row) }
  const filled = { openingMinor, weightGrams, lengthMm, widthMm, heightMm, title: row.title || row.unitTag, reserveDecided: true }
  changeLot(turn, row.id, filled)
  openAsItIs(turn, { ...row, ...filled })
  return missing.map(({ what }) => what).join(', ')
}

/** Of these figures those that there are. */
const given = (row: LotRow): Partial<typeof INVENTED> =>
  Object.fromEntries(
    Object.keys(INVENTED).flatMap((name) =>
      row[name as keyof typeof INVENTED] === null ? [] : [[name, row[name as keyof typeof INVENTED]]],
    ),
  )

/** The invented bidders of a copy that was prepared before. */
export const findCrowd = ({ db }: House): Actor[] =>
  db.query.person
    .findMany({ where: (row, { like }) => like(row.email, 'bidder-%@rehearsal.example') })
    .sync()
    .map(({ id, name, email }) => ({ personId: id, role: 'bidder', name, email }))

/** Whoever acts for the rehearsal where the rules ask for somebody: the copy's own maker. */
export function actorOf(person: ReturnType<typeof listStaff>[number] | undefined): Actor {
  if (!person) throw new Error('The campaign has no maker yet, so there is nothing to rehearse.')
  return { personId: person.personId, role: person.role, name: person.name, email: person.email }
}
