import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound, redirect } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { ProblemTalk } from '#app/_ui/problem-talk.tsx'
import { ReliefNote } from '#app/_ui/relief-note.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { countriesByName } from '#kernel/countries'
import { countryForms } from '#money/sending/postal.rules'
import type { MyParcel } from '#money/sending/sending.contract'
import { InvoiceSheet } from './invoice-sheet'
import { ReportForm } from './report-form'
import { SayForm } from './say-form'
import { Way } from './way'
import { WhereItGoes } from './where-it-goes'
import { WishForm } from './wish-form'

type Params = { params: Promise<{ lot: string }>; searchParams: Promise<{ found?: string | string[] }> }

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  return { title: `Lot ${(await params).lot} is yours` }
}

const STAGES: Record<MyParcel['stage'], { tone: 'plain' | 'copper' | 'doubt' | 'ok'; words: string }> = {
  unpaid: { tone: 'doubt', words: 'To pay' },
  'no address': { tone: 'copper', words: 'Say where it goes' },
  'to pack': { tone: 'ok', words: 'Paid' },
  packing: { tone: 'ok', words: 'Being packed' },
  packed: { tone: 'ok', words: 'Packed' },
  sent: { tone: 'ok', words: 'On its way' },
  arrived: { tone: 'ok', words: 'Arrived' },
}

/** A lot that was won, for its buyer: pay, say where it goes, follow it, say that it came, report what is wrong. */
export default async function WonPage({ params, searchParams }: Params) {
  const { lot } = await params
  const { found } = await searchParams
  if (!/^[1-9]\d{0,8}$/.test(lot)) notFound()
  const caller = await api()
  const { person, campaign } = await caller.people.shell()
  const onward = typeof found === 'string' ? `/me/won/${lot}?found=${encodeURIComponent(found)}` : `/me/won/${lot}`
  if (!person) redirect(`/sign-in?next=${encodeURIComponent(onward)}`)
  if (!campaign) notFound()
  const number = Number(lot)
  const mine = await caller.sending.mine({ lot: number }).catch(orNotFound)
  const invoice = await caller.invoices.page({ lot: number }).catch(() => null)
  const reliefs = await caller.relief.ofLot({ lot: number })
  const { paddle } = await caller.people.myPaddle()
  const { zone, currency } = campaign
  const countries = countriesByName()
  const { tone, words } = STAGES[mine.stage]
  const open = mine.problems.find(({ endedAt }) => endedAt === null)
  const forms = countryForms(countries.map(({ value }) => value))
  const asked = { forms, lot: number, name: person.name, country: paddle?.country ?? '', countries, postage: mine.postage, currency }
  return (
    <div className="page narrow stack wide">
      <Crumbs trail={[{ href: '/me', label: 'My bids' }]} />
      <Tag code={`Lot ${number}${invoice ? ` · ${invoice.unit}` : ''}`} href={`/lots/${number}`} aside={<Chip tone={tone}>{words}</Chip>}>
        <h1>{invoice ? invoice.title : `Lot ${number}`}</h1>
      </Tag>
      {open && (
        <section className="sheet act stack" aria-label="The problem that you reported">
          <ProblemTalk problem={open} zone={zone} currency={currency} reader="buyer" />
          <SayForm problemId={open.id} />
        </section>
      )}
      {invoice && <InvoiceSheet invoice={invoice} />}
      {reliefs.map((relief) => (
        <ReliefNote key={relief.country} relief={relief} />
      ))}
      <WhereItGoes mine={mine} zone={zone} {...asked} />
      <section className="sheet stack" aria-labelledby="way">
        <h2 id="way">Your parcel</h2>
        <Way mine={mine} zone={zone} lot={number} />
        {mine.beside.length === 0 && mine.couldJoin.length > 0 && (
          <>
            {mine.wish !== null && (
              <p>{mine.wish === 'one' ? 'You have asked for one parcel.' : 'You have asked for a parcel for each lot.'}</p>
            )}
            <WishForm key={mine.wish} lot={number} mine={mine} />
          </>
        )}
      </section>
      {mine.sentAt !== null && !open && (
        <section id="report" className="sheet stack" aria-labelledby="wrong">
          <h2 id="wrong">Is something wrong with it?</h2>
          <p>
            Report it here; a first answer comes within {mine.answerHours} hours. You can also{' '}
            {invoice && <Link href={`/units/${invoice.unit}/home`}>repeat the checks at home</Link>}.
          </p>
          <ReportForm lot={number} begun={typeof found === 'string' ? found.slice(0, 2000) : ''} />
        </section>
      )}
      {mine.problems
        .filter(({ endedAt }) => endedAt !== null)
        .map((problem) => (
          <section key={problem.id} className="sheet stack" aria-label="A problem that was closed">
            <ProblemTalk problem={problem} zone={zone} currency={currency} reader="buyer" />
          </section>
        ))}
    </div>
  )
}
