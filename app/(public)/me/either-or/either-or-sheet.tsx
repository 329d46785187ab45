'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useLive } from '#app/_trpc/use-live.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EitherOrLine } from '#app/_ui/either-or-line.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import type { Tone } from '#app/_ui/tone.ts'
import { When } from '#app/_ui/when.tsx'
import { showMoney } from '#kernel/money'
import type { LotsFrame } from '#sale/bidding/bidding.contract'
import type { MyEitherOr, MyLink } from '#sale/either-or/either-or.contract'
import { ChangeLink } from './change-link'
import type { DayOf } from './day-of'

interface EitherOrSheetProps {
  eitherOr: MyEitherOr
  day: DayOf
  closings: readonly { number: number; at: number }[]
}

/** One either-or as it stands, on the programme's line and link by link. It follows the lots as they close. */
export function EitherOrSheet({ eitherOr, day, closings }: EitherOrSheetProps) {
  const router = useRouter()
  const [isShown, setShown] = useState(false)
  const drop = useCommand(api.eitherOr.drop.mutate)
  const { lots, serverNow: now } = useLive<LotsFrame>('lots', { lots: [], serverNow: day.now })
  // A close or a move of any of its lots can wake or lapse a link: then the page is asked for anew.
  const moves = lots
    .filter(({ number }) => eitherOr.links.some(({ lot }) => lot === number))
    .map(({ number, state, closesAt, leaderAlias }) => `${number} ${state} ${closesAt} ${leaderAlias}`)
    .join()
  useEffect(() => {
    if (moves !== '') router.refresh()
  }, [moves, router])
  const show = (amount: number) => showMoney(amount, eitherOr.currency, { short: true })
  const at = (link: MyLink) => closings.find(({ number }) => number === link.lot)?.at ?? link.closesAt ?? day.opensAt
  const waits = eitherOr.links.some(({ phase }) => phase === 'waiting')
  return (
    <section className="sheet stack" aria-label={`Either-or of ${eitherOr.links.length} lots`}>
      <h2>
        {eitherOr.mostWins === 1 ? 'One' : `At most ${eitherOr.mostWins}`} of lots {eitherOr.links.map(({ lot }) => lot).join(', ')}
      </h2>
      <EitherOrLine
        opensAt={day.opensAt}
        closesAt={day.closesAt}
        zone={day.zone}
        now={now}
        posts={eitherOr.links.map((link) => ({
          at: at(link),
          label: `Lot ${link.lot}`,
          kind: 'coming',
          order: link.place,
          phase: link.phase,
        }))}
        others={closings
          .filter(({ number }) => !eitherOr.links.some(({ lot }) => lot === number))
          .map((one) => ({ at: one.at, label: `Lot ${one.number}`, kind: 'coming' }))}
      />
      {eitherOr.warnings.map((words) => (
        <Notice key={words} tone="doubt">
          {words}
        </Notice>
      ))}
      <ol className="plain-list stack close">
        {eitherOr.links.map((link) => (
          <li key={link.place} className="row apart">
            <span>
              <b>
                {link.place}.{' '}
                <Link prefetch={false} href={`/lots/${link.lot}`}>
                  Lot {link.lot}, {link.title}
                </Link>
              </b>
              <br />
              <span className="small quiet">
                {isShown && `Up to ${show(link.maximumMinor)}. `}
                {link.phase === 'waiting' || link.phase === 'awake' ? (
                  <>
                    Closes <When at={at(link)} zone={day.zone} brief />.
                  </>
                ) : (
                  ''
                )}{' '}
                {sayLink(link, show)}
              </span>
            </span>
            <span className="row">
              <Chip tone={standOf(link).tone}>{standOf(link).words}</Chip>
              {(link.phase === 'waiting' || link.phase === 'awake') && <ChangeLink eitherOr={eitherOr} link={link} />}
            </span>
          </li>
        ))}
      </ol>
      <p>
        {eitherOr.isOver
          ? 'It is settled.'
          : isShown
            ? `At most it can still cost ${show(eitherOr.mostMinor)} and postage.${eitherOr.capMinor === null ? '' : ` Your cap on all hammer prices is ${show(eitherOr.capMinor)}.`}`
            : 'Your maxima are hidden, because screens are often shared.'}
      </p>
      <div className="row">
        <button type="button" className="button-line" aria-expanded={isShown} onClick={() => setShown(!isShown)}>
          {isShown ? 'Hide my maxima' : 'Show my maxima'}
        </button>
        {waits && (
          <ConfirmButton
            run={() => drop.run({ eitherOr: eitherOr.id })}
            pending={drop.pending}
            refusal={drop.refusal}
            onDone={() => router.refresh()}
            title="Withdraw what is waiting?"
            undoes={<p>Waiting maxima were never bids and are removed. A bid you have already placed stays: it cannot be withdrawn.</p>}
            confirm="Withdraw them"
            keep="Keep them"
          >
            Withdraw what is waiting…
          </ConfirmButton>
        )}
      </div>
    </section>
  )
}

function standOf({ phase, leads }: MyLink): { tone: Tone; words: string } {
  if (phase === 'won') return { tone: 'ok', words: 'Won' }
  if (phase === 'lost') return { tone: 'plain', words: 'Lost' }
  if (phase === 'lapsed') return { tone: 'plain', words: 'Lapsed' }
  if (phase === 'waiting') return { tone: 'doubt', words: 'Waiting' }
  return leads ? { tone: 'ok', words: 'You lead' } : { tone: 'bad', words: 'Outbid' }
}

function sayLink({ phase, why, hammerMinor }: MyLink, show: (amount: number) => string): string {
  if (phase === 'won' && hammerMinor !== null) return `Won at ${show(hammerMinor)}.`
  return phase === 'lapsed' ? (why ?? '') : ''
}
