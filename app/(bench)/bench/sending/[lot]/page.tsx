import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { orNotFound } from '#app/_trpc/or-not-found.ts'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import { StaffOnly } from '#app/(bench)/bench/_refused/staff-only.tsx'
import { countriesByName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import { STAGE_WORDS } from '#money/sending/packing.rules'
import { postalLines } from '#money/sending/postal.rules'
import type { SendingView } from '#money/sending/sending.contract'
import styles from './address.module.css'
import { ArrivedButton } from './arrived-button'
import { DispatchForm } from './dispatch-form'
import { PackingList } from './packing-list'
import { ParcelCost } from './parcel-cost'
import { ParcelForm } from './parcel-form'
import { Problems } from './problems'
import { Together } from './together'

type Params = { params: Promise<{ lot: string }> }

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  return { title: `Send lot ${(await params).lot}` }
}

/** One parcel, made for a phone in one hand: what goes in, ticked one by one; then weighed, closed and sent. */
export default async function SendLotPage({ params }: Params) {
  const { lot } = await params
  if (!/^[1-9]\d{0,8}$/.test(lot)) notFound()
  const caller = await api()
  const { person } = await caller.people.shell()
  const role = person?.role
  if (role !== 'maker' && role !== 'volunteer' && role !== 'treasurer')
    return <StaffOnly roles={['maker', 'volunteer', 'treasurer']} person={person} />
  const isSender = role !== 'treasurer'
  const setsPostage = role !== 'volunteer'
  const view = await caller.sending.page({ lot: Number(lot) }).catch(orNotFound)
  const { tone, words } = STAGE_WORDS[view.stage]
  const mayPack = isSender && view.stage !== 'unpaid' && view.sentAt === null
  const isOpen = view.problems.some(({ endedAt }) => endedAt === null)
  return (
    <div className="page narrow stack wide">
      <Crumbs trail={[{ href: '/bench/sending', label: 'Sending' }]} />
      <Tag code={`Lot ${view.lot} · ${view.unit}`} href={`/lots/${view.lot}`} aside={<Chip tone={tone}>{words}</Chip>}>
        <h1>{view.title}</h1>
      </Tag>
      {isOpen && <Problems view={view} role={role} />}
      <Where view={view} />
      <Together view={view} setsPostage={setsPostage} />
      {view.dangers.length > 0 && (
        <Notice tone="doubt" title="Before you pack">
          {view.dangers.map((danger) => (
            <p key={danger}>{danger}</p>
          ))}
        </Notice>
      )}
      <section className="stack" aria-labelledby="packing">
        <div className="row apart">
          <h2 id="packing">What goes in</h2>
          <span className="row">
            <a href={`/bench/lots/${view.lot}/packing.pdf`}>Packing list (PDF)</a>
            {isSender && <a href={`/bench/sending/${view.lot}/papers.pdf`}>All papers of the parcel (PDF)</a>}
          </span>
        </div>
        {view.stage === 'unpaid' && <p>You can pack it once it is paid: {showMoney(view.owedMinor, view.currency)} is still to come.</p>}
        <PackingList view={view} mayPack={mayPack} />
      </section>
      {view.sentAt === null && isSender && (
        <section className="sheet stack" aria-labelledby="parcel">
          <h2 id="parcel">The parcel as it goes</h2>
          <ParcelForm key={JSON.stringify(view.parcel)} view={view} countries={countriesByName()} />
        </section>
      )}
      <section className="sheet stack" aria-labelledby="way">
        <h2 id="way">On its way</h2>
        {view.sentAt !== null && <Sent view={view} isSender={isSender} />}
        {view.sentAt === null && (isSender ? <DispatchForm view={view} /> : <p>It has not been sent yet.</p>)}
      </section>
      {setsPostage && view.stage !== 'unpaid' && <ParcelCost view={view} />}
      {!isOpen && view.problems.length > 0 && <Problems view={view} role={role} />}
    </div>
  )
}

function Where({ view }: { view: SendingView }) {
  const { address } = view
  return (
    <section className="sheet stack close" aria-labelledby="where">
      <h2 id="where">Where it goes</h2>
      {address ? (
        <address className={styles.address}>{[...postalLines(address), address.telephone].filter(Boolean).join('\n')}</address>
      ) : (
        <p>
          {!view.seesAddress
            ? 'The address is shown to those who send it, and to nobody else.'
            : view.arrivedAt === null
              ? 'The buyer has not given it yet; their page asks for it.'
              : 'It was deleted when the time for keeping it was over.'}
        </p>
      )}
      {view.isAbroad && (
        <p>It leaves the country. {address && <a href={`/bench/sending/${view.lot}/customs.pdf`}>Customs draft (PDF)</a>}</p>
      )}
    </section>
  )
}

function Sent({ view, isSender }: { view: SendingView; isSender: boolean }) {
  return (
    <>
      <p>
        With {view.carrier}
        {view.tracking !== '' && (
          <>
            , number <span className="code several">{view.tracking}</span>
          </>
        )}
        , since {view.sentAt !== null && <When at={view.sentAt} zone={view.zone} />}.{' '}
        {view.trackingUrl !== '' && <a href={view.trackingUrl}>Follow it</a>}
      </p>
      {view.arrivedAt === null && isSender && <ArrivedButton lot={view.lot} />}
      {view.arrivedAt !== null && (
        <p>
          Arrived <When at={view.arrivedAt} zone={view.zone} />,{' '}
          {view.arrivalSaidBy === 'buyer' ? 'as the buyer says' : 'as the carrier says'}.
        </p>
      )}
    </>
  )
}
