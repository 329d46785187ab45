import type { Tone } from '#app/_ui/tone.ts'
import type { LotState } from '#sale/lots/lots.contract'

export const STATE_WORDS: Record<LotState, string> = {
  draft: 'Draft',
  ready: 'Listed',
  open: 'Open',
  held: 'On hold',
  sold: 'Sold',
  unsold: 'Not sold',
  withdrawn: 'Withdrawn',
}

export const STATE_TONES: Record<LotState, Tone> = {
  draft: 'plain',
  ready: 'plain',
  open: 'copper',
  held: 'doubt',
  sold: 'ok',
  unsold: 'plain',
  withdrawn: 'bad',
}
