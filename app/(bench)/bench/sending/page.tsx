import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import { When } from '#app/_ui/when.tsx'
import { countryName } from '#kernel/countries'
import { lotsInWords } from '#money/journal/lot-words.rules'
import { STAGE_WORDS } from '#money/sending/packing.rules'
import type { ProblemState } from '#money/sending/problem.rules'
import type { SendingLine } from '#money/sending/sending.contract'
import { StaffOnly } from '../_refused/staff-only'
import styles from './sending.module.css'

export const metadata: Metadata = { title: 'Sending' }

const PROBLEM_TONES: Record<ProblemState, Tone> = {
  'first answer due': 'doubt',
  'first answer late': 'bad',
  'waiting for us': 'doubt',
  'answer late': 'bad',
  'waiting for the buyer': 'plain',
  closed: 'plain',
}

/** What waits for hands stands first: problems, then what can be packed, then what is on its way or waits for others. */
const ORDER = ['to pack', 'packing', 'packed', 'no address', 'unpaid', 'sent', 'arrived']

export default async function SendingPage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  const role = person?.role
  if (role !== 'maker' && role !== 'volunteer' && role !== 'treasurer')
    return <StaffOnly roles={['maker', 'volunteer', 'treasurer']} person={person} />
  const lines = await caller.sending.list()
  const isOpen = ({ problem }: SendingLine) => problem !== null && problem !== 'closed'
  const sorted = lines.toSorted(
    (a, b) => Number(isOpen(b)) - Number(isOpen(a)) || ORDER.indexOf(a.stage) - ORDER.indexOf(b.stage) || a.lot - b.lot,
  )
  return (
    <div className="page stack">
      <div className="row apart">
        <h1>Sending</h1>
        <Link prefetch={false} href="/bench/sending/postage">
          Table of postage
        </Link>
      </div>
      {sorted.length === 0 && (
        <EmptyState title="Nothing has been sold yet.">
          <p>Every lot won here appears on this page, from payment to arrival.</p>
        </EmptyState>
      )}
      <ul className={`plain-list ${styles.lots}`}>
        {sorted.map((line) => (
          <li key={line.lot}>
            <SendingTag line={line} zone={campaign?.zone ?? 'utc'} />
          </li>
        ))}
      </ul>
    </div>
  )
}

function SendingTag({ line, zone }: { line: SendingLine; zone: string }) {
  const { tone, words } = STAGE_WORDS[line.stage]
  const where = line.country === '' ? '' : ` to ${countryName(line.country)}`
  return (
    <Tag
      code={`Lot ${line.lot} · ${line.unit}`}
      href={`/bench/sending/${line.lot}`}
      tone={tone === 'copper' ? 'copper' : 'plain'}
      aside={<Chip tone={tone}>{words}</Chip>}
    >
      <p>{line.title}</p>
      <p className="small quiet">
        {line.sentAt === null ? (
          `${line.packed} of ${line.items} packed${where}`
        ) : (
          <>
            With {line.carrier}
            {where}, since <When at={line.sentAt} zone={zone} show="day" />
          </>
        )}
      </p>
      {line.beside.length > 0 && <p className="small quiet">In one parcel with {lotsInWords(line.beside)}</p>}
      {line.wishedWith.length > 0 && <p className="small">The buyer asks for one parcel with {lotsInWords(line.wishedWith)}</p>}
      {line.problem !== null && line.problem !== 'closed' && (
        <p>
          <Chip tone={PROBLEM_TONES[line.problem]}>Problem: {line.problem}</Chip>
        </p>
      )}
    </Tag>
  )
}
