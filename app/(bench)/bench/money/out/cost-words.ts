import type { CostAbout, CostBearer } from '#money/journal/journal.rules'

export const ABOUT_WORDS: Record<CostAbout, string> = {
  parts: 'Parts and materials',
  tools: 'Tools and instruments',
  sending: 'Packing and sending',
  stream: 'The stream',
  other: 'Something else',
}

export const BEARER_WORDS: Record<CostBearer, string> = {
  seller: 'the seller',
  cause: 'the cause',
  postage: 'postage paid by buyers',
}

export const BEARER_CHOICES = [
  { value: 'seller', label: 'The seller’s', hint: 'The cause still gets its whole share.' },
  { value: 'cause', label: 'The cause’s', hint: 'That much less is passed on. Ask the cause first.' },
  { value: 'postage', label: 'The postage that buyers paid' },
]
