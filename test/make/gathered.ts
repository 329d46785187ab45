import { gatherNotices } from '#sale/letters/notices.service'
import type { Stage } from '#test/stage'

/** Writes the letters that wait to be gathered, as if their minutes had passed, and answers all letters. */
export async function gathered(stage: Stage) {
  await stage.command((turn) => gatherNotices(turn, turn.now, 1_000))
  return stage.letters()
}
