import type { LotState } from '../../../../server/lots/lots.contract'
import type { Tone } from '../../../_ui/tone'

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
