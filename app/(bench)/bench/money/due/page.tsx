import type { Metadata } from 'next'
import Link from 'next/link'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import { FixedPriceDesk } from '#app/(bench)/bench/_fixed-price/fixed-price-desk.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { showMoney } from '#kernel/money'
import { ripeReminder } from '#money/invoices/due.rules'
import type { DueLine } from '#money/invoices/invoices.contract'
import { longDay } from '#money/invoices/words.rules'
import { OfferButton } from './offer-button'
import { ReminderForm } from './reminder-form'

export const metadata: Metadata = { title: 'What falls due' }

/** Every lot that is not paid, the longest due first, with the one thing that comes next. */
export default async function DuePage() {
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  if (person?.role !== 'treasurer' && person?.role !== 'maker') return <StaffOnly roles={['treasurer', 'maker']} person={person} />
  if (!campaign) return <EmptyState title="There is no campaign yet." action={<Link href="/bench/campaign">Set up the campaign</Link>} />
  const [lines, terms, books, desks] = await Promise.all([
    caller.invoices.due(),
    caller.invoices.terms(),
    caller.books.all(),
    caller.fixedPrice.desks(),
  ])
  const fell = (books?.statement.lots ?? []).filter(({ state, buyerPersonId }) => state === 'fell through' && buyerPersonId !== null)
  const ended = await Promise.all(
    fell.map(async ({ number, title }) => ({ number, title, ...(await caller.invoices.underbidder({ lot: number })) })),
  )
  const { currency, zone } = campaign
  return (
    <div className="page stack">
      <div className="row apart">
        <h1>What falls due</h1>
        <Link prefetch={false} href="/bench/money/terms">
          How buyers pay
        </Link>
      </div>
      <p className="quiet">
        Due {terms.dueDays} days after the hammer; reminders {terms.reminderDays.join(', ')} days after that,{' '}
        {terms.remindersAlone ? 'which go out automatically at nine in the morning' : 'sent by you'}; the lot goes to the next bidder{' '}
        {terms.offerAfterDays} days after.
      </p>
      {lines.length === 0 && ended.length === 0 && (
        <EmptyState title="Nothing is owed.">
          <p>Lots that are won and not paid appear here, with the dates of their reminders.</p>
        </EmptyState>
      )}
      <ul className="plain-list stack">
        {lines.map((line) => (
          <li key={line.lot}>
            <Due line={line} currency={currency} zone={zone} />
          </li>
        ))}
      </ul>
      {ended.length > 0 && (
        <section className="stack" aria-labelledby="ended">
          <h2 id="ended">Sales that fell through</h2>
          <ul className="plain-list stack">
            {ended.map((one) => (
              <li key={one.number}>
                <Tag code={`Lot ${one.number}`} href={`/bench/money/${one.number}`}>
                  <p>{one.title}</p>
                  <OfferButton lot={one.number} isEnded underbidder={one} currency={currency} zone={zone} />
                  {desks
                    .filter(({ lot }) => lot === one.number)
                    .map((desk) => (
                      <FixedPriceDesk key={desk.lot} desk={desk} />
                    ))}
                </Tag>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}

async function Due({ line, currency, zone }: { line: DueLine; currency: Parameters<typeof showMoney>[1]; zone: string }) {
  const caller = await api()
  const { falls } = line
  const proposed = ripeReminder(falls) === null ? null : await caller.invoices.propose({ lot: line.lot })
  const underbidders =
    falls.is === 'offer' ? await Promise.all(line.lots.map(async (lot) => ({ lot, ...(await caller.invoices.underbidder({ lot })) }))) : []
  const late = line.daysLate > 0 ? `${line.daysLate === 1 ? 'one day' : `${line.daysLate} days`} late` : `due ${longDay(line.dueOn)}`
  return (
    <Tag
      code={line.lots.length === 1 ? `Lot ${line.lot}` : `Lots ${line.lots.join(', ')}`}
      href={`/bench/money/${line.lot}`}
      tone={falls.is === 'offer' ? 'bad' : falls.is === 'reminder' ? 'copper' : 'plain'}
      aside={
        <Chip tone={line.daysLate > 0 ? (falls.is === 'offer' ? 'bad' : 'doubt') : 'plain'}>
          {line.daysLate > 0 ? 'Late' : 'Not due yet'}
        </Chip>
      }
    >
      <div className="stack close">
        <p>
          <b>{showMoney(line.owedMinor, currency)}</b> from {line.buyer}
          {line.paddle !== null && `, paddle ${line.paddle}`}: {line.title}; {late}.
          {line.receivedMinor > 0 && ` ${showMoney(line.receivedMinor, currency)} was paid so far.`}
        </p>
        {line.sent.length > 0 && (
          <ul className="small quiet">
            {line.sent.map(({ step, at, by }) => (
              <li key={step}>
                Reminder {step} went out <When at={at} zone={zone} brief />, {by ?? 'automatically'}
              </li>
            ))}
          </ul>
        )}
        {falls.is === 'waits' && (
          <p className="small quiet">
            Reminder {falls.step} falls due on {longDay(falls.on)}.
          </p>
        )}
        {proposed && <ReminderForm key={proposed.step} letter={proposed} />}
        {underbidders.map((underbidder) => (
          <OfferButton
            key={underbidder.lot}
            lot={underbidder.lot}
            isEnded={false}
            underbidder={underbidder}
            currency={currency}
            zone={zone}
          />
        ))}
      </div>
    </Tag>
  )
}
