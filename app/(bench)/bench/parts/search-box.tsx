'use client'

import Link from 'next/link'
import { useEffect, useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

type Found = Awaited<ReturnType<typeof api.shelf.search.query>>

/** Short enough not to be noticed, long enough to spare the house every letter. */
const PAUSE_MS = 120

/** Batches as one types: by part, value, marking, giver, code or the tag of a piece. */
export function SearchBox({ names }: { names: Record<string, string> }) {
  const [words, setWords] = useState('')
  const [found, setFound] = useState<{ of: string; answer: Found } | { of: string; refusal: string } | null>(null)
  const latest = useRef('')
  useEffect(() => {
    latest.current = words
    if (words.trim() === '') {
      setFound(null)
      return
    }
    const soon = setTimeout(async () => {
      try {
        const answer = await api.shelf.search.query({ words })
        // An answer to what was typed before would take the place of the newer one.
        if (latest.current === words) setFound({ of: words, answer })
      } catch (reason) {
        if (latest.current === words) setFound({ of: words, refusal: refusedBy(reason).words })
      }
    }, PAUSE_MS)
    return () => clearTimeout(soon)
  }, [words])
  const batches = found && 'answer' in found ? found.answer.batches : []
  return (
    <search className="stack close">
      <TextField
        name="words"
        type="search"
        label="Find a batch"
        hint="By part, value (100n finds 0.1 µF), marking, donor, code or a piece’s tag."
        value={words}
        onChange={(event) => setWords(event.currentTarget.value)}
        maxLength={100}
        autoComplete="off"
      />
      <p role="status" className="small quiet">
        {found && ('refusal' in found ? found.refusal : countWords(found.answer))}
      </p>
      {batches.length > 0 && (
        <table className="cards">
          <caption className="visually-hidden">Batches that were found</caption>
          <thead>
            <tr>
              <th scope="col">Batch</th>
              <th scope="col">Part</th>
              <th scope="col">From</th>
              <th scope="col">Marking</th>
              <th scope="col" className="num">
                In hand
              </th>
            </tr>
          </thead>
          <tbody>
            {batches.map(({ id, code, part, donorId, boughtFrom, marking, dateCode, inHand, state }) => (
              <tr key={id}>
                <th scope="row" className="code">
                  <Link href={`/bench/parts/${part.id}#${code}`}>{code}</Link>
                </th>
                <td data-label="Part">
                  {part.words} {state === 'quarantined' && <Chip tone="bad">Quarantined</Chip>}
                </td>
                <td data-label="From">{donorId === null ? boughtFrom : (names[donorId] ?? '')}</td>
                <td data-label="Marking" className="small">
                  {[marking, dateCode].filter(Boolean).join(', ') || '·'}
                </td>
                <td className="num" data-label="In hand">
                  {inHand}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </search>
  )
}

function countWords({ batches, isCut }: Found): string {
  if (batches.length === 0) return 'No batch matches these words. Try fewer, or another spelling.'
  if (isCut) return `The newest ${batches.length}; add another word to narrow it down.`
  return batches.length === 1 ? 'One batch.' : `${batches.length} batches.`
}
