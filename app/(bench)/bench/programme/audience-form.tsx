'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { PlannedZone } from '#sale/programme/programme.contract'
import styles from './audience-form.module.css'

const MOST = 6

/** The zones of the audience with their shares; a row that is left empty is left out. */
export function AudienceForm({ zones, home }: { zones: readonly PlannedZone[]; home: string }) {
  const router = useRouter()
  const given = zones.length > 0 ? zones : [{ zone: home, sharePercent: 100, daysOff: [] }]
  const [rows, setRows] = useState(given.length)
  const { run, pending, refusal } = useCommand(api.programme.audience.mutate)
  const indices = Array.from({ length: rows }, (_, index) => index)
  return (
    <CommandForm
      label="Where the audience lives"
      pending={pending}
      refusal={refusal}
      run={(form) =>
        run({
          zones: indices
            .filter((index) => form.text(`zones.${index}.zone`).trim() !== '')
            .map((index) => ({
              zone: form.text(`zones.${index}.zone`),
              sharePercent: form.whole(`zones.${index}.sharePercent`),
              daysOff: form.text(`zones.${index}.daysOff`),
            })),
        })
      }
      onDone={() => router.refresh()}
    >
      {indices.map((index) => (
        <div key={index} className={styles.pair}>
          <TextField name={`zones.${index}.zone`} label="Time zone" defaultValue={given[index]?.zone} spellCheck={false} list="zones" />
          <TextField
            name={`zones.${index}.sharePercent`}
            label="Share, %"
            width="code"
            inputMode="numeric"
            defaultValue={given[index]?.sharePercent.toString()}
          />
          <TextField
            name={`zones.${index}.daysOff`}
            label="Days off there, besides weekends"
            hint={index === 0 ? 'Holidays near the day, written like 2027-03-26, with a space between two.' : undefined}
            defaultValue={given[index]?.daysOff.join(' ')}
          />
        </div>
      ))}
      <datalist id="zones">
        {[
          'Europe/London',
          'Europe/Berlin',
          'America/New_York',
          'America/Chicago',
          'America/Los_Angeles',
          'Asia/Tokyo',
          'Asia/Kolkata',
          'Australia/Sydney',
        ].map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
      <div className="row">
        <SubmitButton kind="line">Keep this</SubmitButton>
        {rows < MOST && (
          <button type="button" className="button-line" onClick={() => setRows(rows + 1)}>
            Another zone
          </button>
        )}
      </div>
    </CommandForm>
  )
}
