import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { cache } from 'react'
import { api } from '#app/_trpc/server.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { foundOr } from '#app/(public)/_found.ts'
import { AllReadings } from '#app/(public)/units/[tag]/readings.tsx'
import { dayIn } from '#app/(public)/units/[tag]/record.rules.ts'
import type { CertificateState } from '#bench/certificates/certificates.contract'
import { recordSentence } from '#bench/certificates/sentences.rules'
import styles from './certificate.module.css'
import { CheckHere } from './check-here'
import { CheckOffline } from './check-offline'
import { Particulars } from './particulars'

interface Props {
  params: Promise<{ serial: string }>
}

const certificateOf = cache(async (serial: string) =>
  foundOr(async () => (await api()).certificates.show({ serial: decodeURIComponent(serial) })),
)

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const view = await certificateOf((await params).serial)
  if (!view) return { title: 'No such certificate' }
  const { payload, serial } = view
  return { title: `${serial}, certificate of ${payload.item.tag}`, description: payload.title }
}

export default async function CertificatePage({ params }: Props) {
  const view = await certificateOf((await params).serial)
  if (!view) notFound()
  const { serial, payload, state, isIntact, qr, address, zone } = view
  const { results, reworks, item } = payload
  const within = results.filter((result) => result.verdict === 'pass within doubt').length
  const counts = { checks: results.length, passed: results.length, within, failed: 0, reworks: reworks.length, isCertified: true }
  return (
    <article className={`page stack wide ${styles.certificate}`}>
      <div className="no-print">
        <Crumbs trail={[{ label: item.tag, href: `/units/${item.tag}` }]} />
      </div>
      <Standing state={state} zone={zone} />
      {!isIntact && (
        <Notice tone="bad" title="The signature does not match what is stored here">
          <p>What this page shows was changed after it was signed. Do not rely on it, and tell the maker.</p>
        </Notice>
      )}
      <header className={styles.head}>
        <Tag code={`${item.tag} · ${serial}`} aside={<Chip tone={state.is === 'current' ? 'ok' : 'bad'}>{CHIPS[state.is]}</Chip>}>
          <h1>{payload.title}</h1>
          <p>
            Issued {dayIn(Date.parse(payload.issuedAt), zone)} at {payload.issuer.name}, by {payload.authorisedBy}. {recordSentence(counts)}
          </p>
          <p className="quiet">{payload.proves}</p>
        </Tag>
        <figure className={styles.code}>
          <svg viewBox={`0 0 ${qr.size} ${qr.size}`} role="img" aria-label={`QR code that leads to ${address}`} shapeRendering="crispEdges">
            <path d={qr.path} />
          </svg>
          <figcaption className="num small">{serial}</figcaption>
        </figure>
      </header>

      <section className="sheet stack no-print" aria-labelledby="check">
        <h2 id="check">Check it yourself</h2>
        <CheckHere serial={serial} />
        <ul className={`plain-list ${styles.papers}`}>
          <li>
            <a className="button-line" href={`/certificates/${serial}.pdf`}>
              PDF, A4
            </a>
          </li>
          <li>
            <a className="button-line" href={`/certificates/${serial}.pdf?paper=letter`}>
              PDF, Letter
            </a>
          </li>
          <li>
            <a className="button-line" href={`/certificates/${serial}.json`}>
              Signed record, JSON
            </a>
          </li>
          <li>
            <a className="button-line" href={`/certificates/${serial}/status.json`}>
              How it stands, signed
            </a>
          </li>
        </ul>
        <CheckOffline serial={serial} address={address} />
      </section>

      {payload.cautions.length > 0 && (
        <Notice tone="doubt" title="Caution">
          {payload.cautions.map((caution) => (
            <p key={caution}>{caution}</p>
          ))}
        </Notice>
      )}
      <AllReadings results={results} atHome={payload.atHome} zone={zone} />
      <Particulars payload={payload} zone={zone} />
      <p className="quiet">
        Who gave what is in it: <Link href={payload.links.credits}>the credits as they stand</Link>. {payload.end}.
      </p>
    </article>
  )
}

const CHIPS: Record<CertificateState['is'], string> = { current: 'Current', superseded: 'Superseded', withdrawn: 'Withdrawn' }

function Standing({ state, zone }: { state: CertificateState; zone: string }) {
  if (state.is === 'current') return null
  if (state.is === 'withdrawn')
    return (
      <Notice tone="bad" title={`Withdrawn on ${dayIn(state.at, zone)}`}>
        <p>{state.reason}</p>
        <p>
          What it says has not been changed since it was signed, but is no longer to be relied on.{' '}
          {state.again.length > 0 && <>To be measured again before another was issued: {state.again.join(', ')}.</>}
        </p>
        <p>
          {state.by === null ? (
            'No other was issued after it.'
          ) : (
            <>
              The next certificate of this machine:{' '}
              <Link className="code" href={`/certificates/${state.by}`}>
                {state.by}
              </Link>
              .
            </>
          )}
        </p>
      </Notice>
    )
  return (
    <Notice tone="doubt" title={`Superseded on ${dayIn(state.at, zone)}`}>
      <p>
        A later certificate is current for this machine:{' '}
        <Link className="code" href={`/certificates/${state.by}`}>
          {state.by}
        </Link>
        .
      </p>
    </Notice>
  )
}
