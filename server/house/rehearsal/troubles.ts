import type { FromHouse, Note, Trouble } from '#air/rehearsal/rehearsal.contract'
import { type Instant, MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { Actor } from '#runtime/queue/turn'
import { findHoldOfAll, holdClosings } from '#sale/closings/holds.service'
import { applyChange, previewChange } from '#sale/planning/change.service'
import { resumeDay } from '#sale/programme/after-hold.service'
import { listItems } from '#sale/programme/programme.service'
import type { House } from '../open/parts'
import type { Crowd } from './crowd'

const GUEST_LATE_MINUTES = 10
const LOST_FOR = 4 * MINUTE
const BURST = 40

export interface Troubles {
  cause(trouble: Trouble, answer: 'host' | 'itself'): Promise<void>
  /** Does what has come due: a stream that is back. */
  step(now: Instant): void
}

/** What goes wrong at a press, and how the rehearsal deals with it where the host does not. */
export function openTroubles(parts: {
  house: House
  host: Actor
  crowd: Crowd
  news(words: string): void
  note(note: Note): void
  tell(message: FromHouse): void
}): Troubles {
  const { house, host, crowd, news, note, tell } = parts
  let backAt: Instant | null = null

  const guestLate = async (isForHost: boolean) => {
    const sight = house.sight()
    const guest = listItems(sight).find(({ kind, startsAt }) => kind === 'guest' && startsAt > sight.now)
    if (!guest) throw new Refusal('conflict', 'No guest is still to come.')
    news(`${guest.title} is ${GUEST_LATE_MINUTES} minutes late.`)
    if (isForHost) return
    const change = { kind: 'later', itemId: guest.id, minutes: GUEST_LATE_MINUTES } as const
    await house.queue.run((turn) => {
      const { shifts, thrown } = previewChange(turn, change)
      const shown = shifts.map(({ id, to }) => ({ id, to }))
      const chosen = { drop: [], endsLater: 0, accepted: thrown.map(({ id }) => id) }
      applyChange(turn, host, { change, reason: 'A guest is late, in this rehearsal.', shown, chosen })
    })
  }

  const streamLost = async (isForHost: boolean) => {
    if (findHoldOfAll(house.sight())) throw new Refusal('conflict', 'All clocks are already on hold.')
    news('The stream is lost.')
    backAt = house.clock.now() + LOST_FOR
    if (!isForHost) await house.queue.run((turn) => holdClosings(turn, host, { reason: 'The stream is lost, in this rehearsal.' }))
  }

  return {
    async cause(trouble, answer) {
      // Noted before it happens: a process that is killed notes nothing any more.
      if (trouble === 'killed') note({ kind: 'trouble', trouble })
      if (trouble === 'guest-late') await guestLate(answer === 'host')
      if (trouble === 'stream-lost') await streamLost(answer === 'host')
      if (trouble === 'burst') {
        news(`${BURST} bids come at once.`)
        crowd.burst(BURST)
      }
      if (trouble === 'killed') {
        news('The process is killed; it comes back in three minutes of the day.')
        tell({ tell: 'kill', at: house.clock.now() })
      } else note({ kind: 'trouble', trouble })
    },
    step(now) {
      if (backAt === null || now < backAt) return
      backAt = null
      news('The stream is back.')
      // Whoever held the clocks lets them go on: the host on their screen, or the rehearsal what it held itself.
      const hold = findHoldOfAll(house.sight())
      if (hold?.reason.endsWith('in this rehearsal.'))
        house.queue.run((turn) => resumeDay(turn, host)).catch((reason) => house.log.error({ err: reason }, 'the clocks could not go on'))
    },
  }
}
