import type { Tone } from '#app/_ui/tone.ts'
import type { LotCard, LotState } from '#sale/lots/lots.contract'
import { comesTo, fellThrough } from '#sale/price/result.rules'

const STATE_WORDS: Record<LotState, string> = {
  draft: 'Draft',
  ready: 'Listed',
  open: 'Open',
  held: 'On hold',
  sold: 'Sold',
  unsold: 'Not sold',
  withdrawn: 'Withdrawn',
}

const STATE_TONES: Record<LotState, Tone> = {
  draft: 'plain',
  ready: 'plain',
  open: 'copper',
  held: 'doubt',
  sold: 'ok',
  unsold: 'plain',
  withdrawn: 'bad',
}

/** A lot whose sale fell through is not sold, and one that went at a fixed price is. */
export function stateChip(lot: Pick<LotCard, 'state' | 'hammerMinor' | 'standsMinor'>): { tone: Tone; words: string } {
  if (comesTo(lot) > 0) return { tone: 'ok', words: STATE_WORDS.sold }
  if (lot.state === 'sold' && fellThrough(lot)) return { tone: 'plain', words: 'Fell through' }
  return { tone: STATE_TONES[lot.state], words: STATE_WORDS[lot.state] }
}
