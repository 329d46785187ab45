'use client'

import Link from 'next/link'
import { useEffect, useState } from 'react'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { CHEAP_METER, compareAtHome, type HomeCheck } from '#bench/certificates/home.rules'
import type { HomeView } from '#bench/certificates/home.service'
import { shownWithUnit } from '#bench/certificates/sentences.rules'
import { HomeCheckRow } from './home-check-row'
import { type Kept, keep, keptOf } from './kept'
import { ShareForm } from './share-form'

/** The buyer's own bench. What is written stays on this device until they choose to share it. */
export function HomeBench({ view, lot, box }: { view: HomeView; lot: number | null; box: string }) {
  const [kept, setKept] = useState<Kept>({ meter: CHEAP_METER, readings: {} })
  useEffect(() => {
    const before = keptOf(view.tag)
    if (before) setKept(before)
  }, [view.tag])

  const change = (next: Kept) => {
    setKept(next)
    keep(view.tag, next)
  }
  const written = view.checks.filter(({ check }) => kept.readings[check]?.trim())
  const answers = written
    .map((one) => ({ one, answer: compareAtHome(one, kept.readings[one.check] ?? '', kept.meter) }))
    .flatMap(({ one, answer }) => (answer.ok ? [{ check: one, ...answer.found }] : []))
  const differing = answers.filter(({ agrees }) => !agrees)
  const apart = differing.length

  return (
    <div className="stack">
      <section className="sheet stack" aria-labelledby="readings-title">
        <h2 id="readings-title">Your readings</h2>
        <TextField
          name="meter"
          label="How accurate is your meter?"
          hint="See its leaflet. The figures filled in are typical of cheap meters."
          value={kept.meter}
          maxLength={300}
          onChange={(event) => change({ ...kept, meter: event.target.value })}
          mono
        />
        <ol className="plain-list stack">
          {view.checks.map((check) => (
            <HomeCheckRow
              key={check.check}
              check={check}
              written={kept.readings[check.check] ?? ''}
              meter={kept.meter}
              onWrite={(text) => change({ ...kept, readings: { ...kept.readings, [check.check]: text } })}
            />
          ))}
        </ol>
        <p role="status">
          {answers.length === 0
            ? 'What you write stays on this device.'
            : `${answers.length} of ${view.checks.length} compared: ${apart === 0 ? 'all agree with the bench' : apart === 1 ? 'one differs' : `${apart} differ`}.`}
        </p>
        {lot !== null && apart > 0 && (
          <Notice tone="bad" title={apart === 1 ? 'One reading differs' : `${apart} readings differ`}>
            <p>
              Measure it once more. If it still differs, leave it switched off and tell us, with a photograph if there is something to see.
            </p>
            <p>
              <Link
                prefetch={false}
                href={`/me/won/${lot}?found=${encodeURIComponent(foundWords(view.tag, kept.meter, differing))}#report`}
              >
                Report a problem
              </Link>
            </p>
          </Notice>
        )}
        {written.length > 0 && (
          <div>
            <button type="button" className="button-line" onClick={() => saveFile(view, kept)}>
              Keep a copy as a file
            </button>
          </div>
        )}
      </section>
      <ShareForm view={view} kept={kept} box={box} />
    </div>
  )
}

/** What a report begins with: each differing reading beside the bench's, and with what it was measured. */
const foundWords = (tag: string, meter: string, found: readonly { check: HomeCheck; shown: string }[]): string =>
  [
    `Measured at home on ${tag} with a meter of ${meter}:`,
    ...found.map(({ check, shown }) => `${check.check} ${check.title}: ${shown}; at the bench ${shownWithUnit(check)}`),
    '',
  ].join('\n')

function saveFile(view: HomeView, kept: Kept) {
  const readings = view.checks.map((check) => ({ ...check, atHome: kept.readings[check.check] ?? '' }))
  const content = JSON.stringify(
    { kind: 'tagstrip-home', version: 1, tag: view.tag, certificate: view.serial, meter: kept.meter, readings },
    null,
    2,
  )
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([content], { type: 'application/json' }))
  link.download = `${view.tag}-at-home.json`
  link.click()
  URL.revokeObjectURL(link.href)
}
