import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { TextButton } from '#app/_ui/text-button.tsx'
import { When } from '#app/_ui/when.tsx'
import type { TimelineEntry } from '#bench/units/view.contract'
import styles from './record-sheet.module.css'

interface TimelineListProps {
  tag: string
  newest: readonly TimelineEntry[]
  /** How many entries there are in all. */
  happened: number
  zone: string
}

/** What happened to the machine, the latest first, and all of it when asked for. Nothing in it is ever edited. */
export function TimelineList({ tag, newest, happened, zone }: TimelineListProps) {
  const [all, setAll] = useState<readonly TimelineEntry[] | null>(null)
  const [wanted, setWanted] = useState(false)
  const { run, pending, refusal } = useCommand(api.bringup.timeline.query)
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked for anew when something more has happened.
  useEffect(() => {
    if (wanted) run({ tag }).then((entries) => entries && setAll(entries))
  }, [wanted, happened, tag, run])
  const shown = all ?? newest
  if (happened === 0) return <p className="quiet">Nothing yet.</p>
  return (
    <>
      <ol className={styles.timeline}>
        {shown.map((entry) => (
          <li key={`${entry.at} ${entry.kind} ${entry.words}`} data-tone={entry.tone}>
            <span className={styles.at}>
              <When at={entry.at} zone={zone} brief /> · {entry.by}
            </span>
            <span>
              <b>{entry.kind === 'reading' ? '' : `${entry.kind} `}</b>
              {entry.words}
            </span>
          </li>
        ))}
      </ol>
      {all === null && happened > newest.length && (
        <p className="small quiet">
          The newest {newest.length} of {happened} entries. <TextButton press={() => setWanted(true)}>Show all of them</TextButton>
        </p>
      )}
      <p role="status" className="small quiet">
        {refusal ? refusal.words : pending ? 'Fetching them…' : ''}
      </p>
    </>
  )
}
