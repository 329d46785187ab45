import type { z } from 'zod'
import type { withdrawIn } from '#bench/certificates/certificates.contract'
import { endCertificate } from '#bench/certificates/certificates.service'
import { beforeIssue } from '#bench/certificates/record.service'
import { shownWithUnit } from '#bench/certificates/sentences.rules'
import { certificatesOfUnit, currentCertificate, type Standing, withdrawForChange } from '#bench/certificates/standing.service'
import { mustBeSearching, noteReading } from '#bench/faults/faults.service'
import { faultAtBench } from '#bench/faults/search.service'
import { type Fitted, fitPieces } from '#bench/units/fit.service'
import { correctReading, type ReadingTaken, takeReading } from '#bench/units/readings.service'
import { type Moved, moveToRevision } from '#bench/units/revise.service'
import { type Reworked, reworkUnit } from '#bench/units/rework.service'
import { getUnit, loadUnit, type UnitState } from '#bench/units/unit-state.service'
import type { correctionIn, fitIn, moveIn, readingIn, reworkIn, setAsideIn, tagIn } from '#bench/units/units.contract'
import { setAsideUnit, takeUpUnit } from '#bench/units/units.service'
import { isPass } from '#bench/units/verdict.rules'
import { benchView } from '#bench/units/view.service'
import { Refusal } from '#kernel/refusal'
import { asOf } from '#runtime/queue/as-of'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { holdLotOfUnit } from '#sale/closings/holds.service'
import { batchesById } from '#stock/shelf/batch.service'
import { progressOf } from '../rack/rack.service'
import type { BringupView } from './bringup.contract'

// What happens at the bench ends what was promised of the unit elsewhere: its certificate is withdrawn and its open
// lot goes on hold. Certificates and lots know the units, so this is where the three meet.
function endPromises(turn: Turn, unitId: string, reason: string, checks: readonly string[] = []): boolean {
  const withdrawn = withdrawForChange(turn, unitId, reason, checks)
  holdLotOfUnit(turn, unitId, reason)
  return withdrawn
}

/** A rework, and what follows from it when readings are lost. */
export function enterRework(turn: Turn, actor: Actor, input: z.output<typeof reworkIn>): Reworked {
  return once(turn, `${input.key}:follow`, { follow: input }, () => {
    const done = reworkUnit(turn, actor, input)
    if (done.undone.length > 0) endPromises(turn, done.unitId, done.words, done.undone)
    return done
  })
}

export function enterFitting(turn: Turn, actor: Actor, input: z.output<typeof fitIn>): Fitted {
  const done = fitPieces(turn, actor, input)
  if (done.undone.length > 0) endPromises(turn, getUnit(turn, input.tag).id, `${done.designators.join(', ')} fitted late.`, done.undone)
  return done
}

/** A reading that fails on a certified unit ends its certificate, as a rework does. */
export function enterReading(turn: Turn, actor: Actor, input: z.output<typeof readingIn>): ReadingTaken {
  return afterReading(turn, actor, input.tag, takeReading(turn, actor, input))
}

/** A reading taken to find a fault: only safety binds, and it is marked unless it could have been taken in its order. */
export function enterSearching(turn: Turn, actor: Actor, input: z.output<typeof readingIn>): ReadingTaken {
  mustBeSearching(turn, input.tag)
  return afterReading(turn, actor, input.tag, takeReading(turn, actor, input, { isSearching: true }))
}

/**
 * A figure that is put right says that what was signed of it was not right, so its certificate ends, though the machine is as it was.
 * One that was taken again since the certificate, and is put right now, was never signed.
 */
export function enterCorrection(turn: Turn, actor: Actor, input: z.output<typeof correctionIn>): ReadingTaken {
  return once(turn, `${input.key}:follow`, { followCorrection: input }, () => {
    const { unit, readings, standing } = loadUnit(turn, input.tag)
    const before = readings.find(({ id }) => id === standing.states.get(input.check)?.current)
    const certificate = currentCertificate(turn, unit.id)
    const taken = correctReading(turn, actor, input)
    noteReading(turn, actor, unit.tag, taken)
    const isPassed = isPass(taken.verdict)
    if (!isPassed || (certificate && before && before.at <= certificate.issuedAt))
      endPromises(turn, unit.id, correctedWords(taken, before, isPassed, input.reason), [taken.check])
    return taken
  })
}

/** "B6 was put right, from 8.02 V to 8.04 V: a slip of the pen." */
function correctedWords(
  { check, entry, verdict }: ReadingTaken,
  before: TakenBefore | undefined,
  isPassed: boolean,
  reason: string,
): string {
  const shown = (written: string) => shownWithUnit({ shown: written, unit: before?.unit || null })
  const figures = before && shown(before.entry) !== shown(entry) ? `, from ${shown(before.entry)} to ${shown(entry)}` : ''
  return `${check} was put right${figures}${isPassed ? '' : `, and is a ${verdict}`}: ${reason}`
}
type TakenBefore = UnitState['readings'][number]

function afterReading(turn: Turn, actor: Actor, tag: string, taken: ReadingTaken): ReadingTaken {
  noteReading(turn, actor, tag, taken)
  if (!isPass(taken.verdict))
    endPromises(turn, getUnit(turn, tag).id, `${taken.check} was taken again and is a ${taken.verdict}.`, [taken.check])
  return taken
}

/** Another revision may ask for what was not shown: readings that do not carry over end what was promised by them. */
export function enterMove(turn: Turn, actor: Actor, input: z.output<typeof moveIn>): Moved {
  return once(turn, `${input.key}:follow`, { followMove: input }, () => {
    const done = moveToRevision(turn, actor, input)
    if (done.undone.length > 0)
      endPromises(turn, done.unitId, `It goes on by revision ${done.revision}: ${done.undone.join(', ')} to be taken again.`, done.undone)
    return done
  })
}

export function setAside(turn: Turn, actor: Actor, input: z.output<typeof setAsideIn>) {
  const unit = setAsideUnit(turn, actor, input)
  endPromises(turn, unit.id, `${unit.tag} was set aside: ${unit.setAsideReason ?? input.reason}`)
  return { tag: unit.tag }
}

/** Lets a unit go on, once nothing of a quarantined batch is in it. */
export function takeUp(turn: Turn, _actor: Actor, { tag }: z.output<typeof tagIn>) {
  const { fitted, unit } = loadUnit(turn, tag)
  const suspect = batchesById(turn, [...new Set([...fitted.values()].map(({ batchId }) => batchId))]).find(
    (batch) => batch.state === 'quarantined',
  )
  if (suspect)
    throw Refusal.at('tag', `${unit.tag} still holds pieces of ${suspect.code}, which is quarantined. Replace them first.`, 'on-hold')
  return { tag: takeUpUnit(turn, unit.tag).tag }
}

/** Withdraws a certificate by hand; the open lot of its unit goes on hold with the same reason. */
export function withdrawCertificate(turn: Turn, input: z.output<typeof withdrawIn>): Standing {
  const { unitId, ...ended } = endCertificate(turn, input)
  holdLotOfUnit(turn, unitId, `The certificate of its unit was withdrawn: ${input.reason}`)
  return ended
}

/** The bench screen with how far the unit has come and what its certificate lacks. */
export function bringupView(sight: Sight, tag: string): BringupView {
  const state = loadUnit(sight, tag)
  const view = benchView(sight, state)
  const { fault, faultPasses, mayBeSlip, shared } = faultAtBench(sight, state)
  const certificate = currentCertificate(sight, view.unitId)
  return {
    ...view,
    fault,
    faultPasses,
    mayBeSlip,
    shared,
    asOf: asOf(sight),
    servedAt: sight.now,
    reached: progressOf(sight, state),
    certificate: certificate?.serial ?? null,
    certifiedAt: certificate?.issuedAt ?? null,
    formerCertificates: certificatesOfUnit(sight, view.unitId)
      .filter(({ state }) => state.is !== 'current')
      .map(({ serial }) => serial),
    ...beforeIssue(sight, state),
  }
}
