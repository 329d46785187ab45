import type { Metadata } from 'next'
import { api } from '#app/_trpc/server.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { insteadOf } from '../for-whom'
import { LettersToSend } from './letters-to-send'
import { WithoutLetter } from './without-letter'

export const metadata: Metadata = { title: 'Letters to donors' }

/** What became of the gifts, for every donor: who gets a letter and which, who gets none and why, before any of it is sent. */
export default async function LettersPage() {
  const instead = await insteadOf('What became of the gifts, for every donor', ['maker'])
  if (instead) return instead
  const letters = await (await api()).lastLetters.all()
  if (!letters) return null
  return (
    <div className="page stack wide">
      <header className="stack close">
        <h1>What became of the gifts, for every donor</h1>
        <p>
          One last letter to each donor, written from the records: what became of their gifts and what the lots raised. The value of a gift
          is never stated.
        </p>
      </header>
      {letters.refusedBecause && (
        <Notice tone="info" title="Not yet">
          <p>{letters.refusedBecause} Below is what the letters would say now.</p>
        </Notice>
      )}
      <LettersToSend letters={letters} />
      {letters.without.length > 0 && <WithoutLetter donors={letters.without} />}
    </div>
  )
}
