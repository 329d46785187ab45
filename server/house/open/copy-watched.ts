import { type CopyState, copyWords } from '#runtime/elsewhere/copy-age.rules'
import type { Elsewhere } from '#runtime/elsewhere/elsewhere'
import type { Finding, Watched } from '#runtime/vitals/vital'

/** The copy elsewhere, among all else that is watched of the house. */
export const copyWatched = ({ state }: Elsewhere): Watched => ({
  key: 'elsewhere-age',
  name: 'Copy elsewhere',
  unit: 'seconds',
  help: 'Age of what the copy elsewhere holds of the database.',
  whenNotReady: 'The copy elsewhere is too old.',
  look: () => judgeElsewhere(state()),
})

/** What interrupts a copy for a moment sends nobody elsewhere. */
const NOT_READY_AFTER_SECONDS = 300

/** A house whose copy is behind takes bids all the same: its maker is told at once, and whoever asks whether it is ready some minutes later. */
function judgeElsewhere(state: CopyState): Finding {
  const { ageSeconds: value, lateSeconds, trouble, note } = state
  if (trouble !== null)
    return {
      ...{ value, standing: 'bad', words: copyWords(state), toDo: 'Mend what it says, or set COPY_TO to another place.' },
      isReadyStill: lateSeconds <= NOT_READY_AFTER_SECONDS,
    }
  if (note !== null) return { value, standing: 'look', words: copyWords(state), toDo: 'Set COPY_TO to a folder on another disk.' }
  return { value, standing: 'good', words: copyWords(state), toDo: null }
}
