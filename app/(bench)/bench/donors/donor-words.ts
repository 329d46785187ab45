import type { Anonymity, ConsentUse } from '#stock/donors/donor.contract'

export const USE_QUESTIONS: Record<ConsentUse, string> = {
  page: 'On the page',
  stream: 'On stream',
  card: 'On a printed card, which cannot be recalled',
}

export const ANONYMITY_WORDS: { value: Anonymity; label: string }[] = [
  { value: 'named', label: 'By their name' },
  { value: 'friend', label: 'As “a friend”' },
  { value: 'maker-only', label: 'Not at all; the maker knows' },
  { value: 'unknown', label: 'Nobody knows who it was' },
]
