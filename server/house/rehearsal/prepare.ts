import { campaign } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { listStaff, setRole, takePaddle } from '#people/people/people.service'
import type { Actor } from '#runtime/queue/turn'
import { openLot } from '#sale/closings/opening.service'
import { listLots } from '#sale/lots/lots.service'
import { announceProgramme } from '#sale/programme/programme.service'
import type { House } from '../open/parts'

const BIDDERS = 12
const COUNTRIES = ['GB', 'NO', 'JP', 'US', 'DE', 'PT'] as const

/** Makes the copy ready to be played, once: it says on all its papers that it is a rehearsal, its lots open, its bidders are invented. */
export async function prepareCopy({ queue }: House): Promise<string[]> {
  const told: string[] = []
  await queue.run((turn) => {
    turn.db
      .update(campaign)
      .set({ name: `Rehearsal: ${getCampaign(turn).name}` })
      .run()
    announceProgramme(turn)
  })
  const maker = actorOf(await queue.run((turn) => listStaff(turn).find(({ role }) => role === 'maker')))
  const waiting = await queue.run((turn) =>
    listLots(turn).filter(({ state, closesAt }) => (state === 'draft' || state === 'ready') && closesAt !== null),
  )
  for (const { number } of waiting) {
    try {
      await queue.run((turn) => openLot(turn, maker, { lot: number }))
    } catch (reason) {
      if (!(reason instanceof Refusal)) throw reason
      told.push(`Lot ${number} takes no part: ${reason.message}`)
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
