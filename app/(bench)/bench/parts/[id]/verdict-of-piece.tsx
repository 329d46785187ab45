import { Chip } from '#app/_ui/chip.tsx'
import { countsAsGood } from '#stock/shelf/piece.rules'
import type { Verdict } from '#stock/shelf/shelf.contract'

/** What is concluded about a piece, in a word and a shape. */
export function VerdictOfPiece({ verdict, programmed }: { verdict: Verdict; programmed: boolean }) {
  const isGood = countsAsGood(verdict, programmed)
  const tone = verdict === 'not inspected' ? 'plain' : isGood ? 'ok' : verdict === 'reader uncertain' ? 'doubt' : 'bad'
  return <Chip tone={tone}>{verdict.charAt(0).toUpperCase() + verdict.slice(1)}</Chip>
}
