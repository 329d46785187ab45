import type { Verdict } from '#bench/units/verdict.rules'
import { Chip } from './chip'
import type { Tone } from './tone'

const SHOWN: Record<Verdict, { tone: Tone; words: string }> = {
  pass: { tone: 'ok', words: 'Passed' },
  'pass within doubt': { tone: 'doubt', words: 'Passed within doubt' },
  'fail within doubt': { tone: 'bad', words: 'Failed within doubt' },
  fail: { tone: 'bad', words: 'Failed' },
}

/** What the reading came to, in the words and the colour that it has everywhere. */
export function VerdictChip({ verdict }: { verdict: Verdict }) {
  const { tone, words } = SHOWN[verdict]
  return <Chip tone={tone}>{words}</Chip>
}
