import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { once, type Sight, type Turn } from '#runtime/queue/turn'
import { getUnit, loadUnit } from '../units/unit-state.service'
import type { HomeReading, ShareHomeIn } from './certificates.contract'
import { codeOf, compareAtHome, type HomeStep, plainCode } from './home.rules'
import { countHomeReports, insertHomeReport, listHomeReports } from './home.store'
import { certifiedRecord } from './record.service'

const MOST_REPORTS = 50

export interface HomeView {
  tag: string
  design: string
  serial: string | null
  checks: HomeStep[]
  cautions: readonly string[]
}

/** The key checks that a buyer repeats, as the bench found them. */
export function homeChecks(sight: Sight, { tag }: { tag: string }): HomeView {
  const { record, standing } = certifiedRecord(sight, loadUnit(sight, tag))
  const checks = record.atHome.flatMap((key) => record.results.filter((result) => result.check === key))
  return {
    tag: record.tag,
    design: record.design.name,
    serial: standing?.serial ?? null,
    cautions: record.design.cautions,
    checks: checks.map(({ check, title, kind, shown, value, unit, nominal, lower, upper, doubt, plain, verdict, caution, home }) => ({
      check,
      title,
      kind,
      shown,
      value,
      unit,
      nominal,
      lower,
      upper,
      doubt,
      plain,
      verdict,
      caution,
      home,
    })),
  }
}

/** The code on the card in the box of a unit: whoever has it has the machine. */
export const boxCode = (sight: Sight, tag: string): string => codeOf(sight.keys.seal(`box of ${tag}`))

/** What a buyer found at home, shared with the maker. It carries no name and no address: the code says which box it came out of. */
export function shareHome(turn: Turn, input: ShareHomeIn): { compared: number; apart: number } {
  return once(turn, input.key, input, () => {
    const view = homeChecks(turn, { tag: input.tag })
    if (plainCode(input.code) !== plainCode(boxCode(turn, view.tag)))
      throw Refusal.at('code', `That is not the code on the card in the box of ${view.tag}. It has eight letters and digits.`)
    const unitId = getUnit(turn, view.tag).id
    if (countHomeReports(turn.db, unitId) >= MOST_REPORTS)
      throw new Refusal('too-many', 'A great deal has already been shared about this machine. Write to the maker instead.')
    const readings = view.checks.flatMap((check): HomeReading[] => {
      const written = input.readings.find((one) => one.check === check.check)?.written.trim() ?? ''
      if (written === '') return []
      const answer = compareAtHome(check, written, input.meter)
      if (!answer.ok) throw Refusal.at(`reading-${check.check}`, answer.words)
      const { shown, doubt, agrees, words } = answer.found
      return [{ check: check.check, title: check.title, bench: check.shown, unit: check.unit, shown, doubt, agrees, words }]
    })
    if (readings.length === 0) throw new Refusal('bad-input', 'Write at least one reading before you share them.')
    const apart = readings.filter((one) => !one.agrees).length
    insertHomeReport(turn.db, {
      id: turn.dice.id(),
      unitId,
      serial: view.serial,
      at: turn.now,
      meter: input.meter,
      readings,
      note: input.note,
    })
    turn.record({ kind: 'home.shared', subject: `unit:${view.tag}`, body: { tag: view.tag, compared: readings.length, apart } })
    return { compared: readings.length, apart }
  })
}

export interface HomeReport {
  id: string
  at: Instant
  serial: string | null
  meter: string
  note: string
  readings: HomeReading[]
}

/** For the bench: the box's code, and what buyers shared of this unit, the newest first. */
export function homeReports(sight: Sight, { tag }: { tag: string }): { code: string; reports: HomeReport[] } {
  const unit = getUnit(sight, tag)
  return { code: boxCode(sight, unit.tag), reports: listHomeReports(sight.db, unit.id).map(({ unitId: _own, ...report }) => report) }
}
