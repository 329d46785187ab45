'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Notice } from '#app/_ui/notice.tsx'
import type { Role } from '#kernel/role'
import styles from './step-into.module.css'

interface Stand {
  home: string
  does: string
}

const STANDS: Record<Role, Stand> = {
  maker: { home: '/bench', does: 'builds, tests, prepares lots and plans closings' },
  volunteer: { home: '/bench/parcels/new', does: 'logs donors and parcels, with a phone in one hand' },
  treasurer: { home: '/bench/money', does: 'marks lots paid and needs one true figure' },
  host: { home: '/air/host', does: 'looks at the next closing from across the room' },
  bidder: { home: '/', does: 'reads the records and bids' },
}

export function StepInto({ people }: { people: { personId: string; name: string; role: Role; paddle: number | null }[] }) {
  const { run, pending, refusal } = useCommand(api.people.stepInto.mutate)
  const step = async (personId: string) => {
    const answer = await run({ personId })
    if (answer) window.location.assign(STANDS[answer.role].home)
  }
  return (
    <>
      {refusal && <Notice tone="bad">{refusal.words}</Notice>}
      <ul className={styles.stands} aria-busy={pending}>
        {people.map(({ personId, name, role, paddle }) => (
          <li key={personId}>
            <button type="button" className={styles.stand} onClick={() => step(personId)}>
              <span className={styles.role}>
                {role}
                {paddle !== null && `, paddle ${paddle}`}
              </span>
              <b>{name}</b>
              <span className="quiet small">{STANDS[role].does}</span>
            </button>
          </li>
        ))}
      </ul>
    </>
  )
}
