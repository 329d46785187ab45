import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { needPhotograph } from '#people/photographs/photograph.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getDesign } from '../designs/designs.service'
import * as store from './board.store'
import type { addBoardIn, BoardPage, BoardPhotograph, boardIn, pinIn, unpinIn } from './fault.contract'
import { pointsOf } from './observations.service'

/** Enough for both sides of two boards, near and far. */
const MOST_PHOTOGRAPHS = 8

/** The photographs of a design's board with what is pinned on them; the same for all its revisions. */
export function boardPhotographs(sight: Sight, designKey: string): BoardPhotograph[] {
  const pins = store.pinsOf(sight.db, designKey)
  return store.photographsOf(sight.db, designKey).map((photograph) => ({
    ...photograph,
    pins: pins.flatMap(({ photoSha, mark, x, y }) => (photoSha === photograph.sha ? [{ mark, x, y }] : [])),
  }))
}

/** The photographs, and all that can be pinned on them: test points first, then the positions of the parts list. */
export function boardPage(sight: Sight, designId: string): BoardPage {
  const design = getDesign(sight, designId)
  const points = pointsOf(sight, design).map(({ point }) => point)
  const marks = [...new Set([...points, ...design.positions.map(({ designator }) => designator)])]
  return {
    design: { id: design.id, name: design.name, revision: design.revision },
    photographs: boardPhotographs(sight, design.key),
    marks,
  }
}

export function addBoard(turn: Turn, actor: Actor, { designId, photograph, words }: z.output<typeof addBoardIn>): void {
  const { key: designKey } = getDesign(turn, designId)
  needPhotograph(turn, photograph, 'photograph')
  const there = store.photographsOf(turn.db, designKey)
  if (there.some(({ sha }) => sha === photograph)) throw Refusal.at('photograph', 'This photograph is there already.', 'conflict')
  if (there.length >= MOST_PHOTOGRAPHS)
    throw Refusal.at('photograph', `${MOST_PHOTOGRAPHS} photographs are enough. Remove one first.`, 'too-many')
  store.insertPhotograph(turn.db, { designKey, photoSha: photograph, words, at: turn.now, byPersonId: actor.personId })
  told(turn, designKey, { photograph, words })
}

export function removeBoard(turn: Turn, _actor: Actor, { designId, photograph }: z.output<typeof boardIn>): void {
  const { key } = getDesign(turn, designId)
  needBoard(turn, key, photograph)
  store.deletePhotograph(turn.db, key, photograph)
  told(turn, key, { photograph, removed: true })
}

/** Pins a part or a test point; where it was pinned before on this photograph, it moves. */
export function pinMark(turn: Turn, actor: Actor, { designId, photograph, mark, x, y }: z.output<typeof pinIn>): void {
  const { marks } = boardPage(turn, designId)
  const { key: designKey } = getDesign(turn, designId)
  needBoard(turn, designKey, photograph)
  if (!marks.includes(mark)) throw Refusal.at('mark', `Neither a part nor a test point of this design is called "${mark}". Choose one.`)
  store.putPin(turn.db, { designKey, photoSha: photograph, mark, x, y, at: turn.now, byPersonId: actor.personId })
  told(turn, designKey, { photograph, mark, x, y })
}

export function unpinMark(turn: Turn, _actor: Actor, { designId, photograph, mark }: z.output<typeof unpinIn>): void {
  const { key: designKey } = getDesign(turn, designId)
  store.deletePin(turn.db, { designKey, photoSha: photograph, mark })
  told(turn, designKey, { photograph, mark, removed: true })
}

function needBoard(sight: Sight, designKey: string, sha: string): void {
  if (!store.photographsOf(sight.db, designKey).some((one) => one.sha === sha))
    throw new Refusal('not-found', 'This photograph is no longer there. Reload the page.')
}

const told = (turn: Turn, designKey: string, body: Record<string, unknown>) =>
  turn.record({ kind: 'design.board', subject: `design:${designKey}`, body: { designKey, ...body } })
