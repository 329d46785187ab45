import type { Sight } from '#runtime/queue/turn'
import { type Vital, WORSE } from '#runtime/vitals/vital'
import type { Vitals } from '#runtime/vitals/vitals'
import { listTold } from './vital-letters.service'
import type { LetterState, VitalsView } from './vitals.contract'

/** How the house is, the worst first. */
export function readVitals(sight: Sight, vitals: Vitals, isWrittenTo: boolean): VitalsView {
  const told = listTold(sight)
  const all = vitals.list()
  const mail = all.find(({ key }) => key === 'mail-failing')
  const doesMailGo = mail === undefined || (mail.standing !== 'bad' && mail.value !== null)
  const letterOf = ({ key, standing }: Vital): LetterState => {
    if (standing !== 'bad' || !isWrittenTo) return 'none'
    if (!told.has(key)) return 'to be written'
    return doesMailGo ? 'written' : 'waits'
  }
  return {
    at: sight.now,
    standing: all.reduce((worst, { standing }) => (WORSE[standing] > WORSE[worst] ? standing : worst), 'good' as Vital['standing']),
    vitals: all.map((vital) => {
      const { help: _help, whenNotReady: _words, also: _also, ...shown } = vital
      return { ...shown, pieces: vitals.pieces(vital.key), letter: letterOf(vital) }
    }),
  }
}
