import Link from 'next/link'
import type { ReactNode } from 'react'
import { dayIn } from '#app/(public)/units/[tag]/record.rules.ts'
import type { CertificatePayload } from '#bench/certificates/certificates.contract'
import {
  evidenceTitle,
  isRealFault,
  nothingChangedWords,
  releaseWords,
  shownWithUnit,
  soakWords,
} from '#bench/certificates/sentences.rules'
import styles from './certificate.module.css'

/** All else that the signed document says, in its own words. */
export function Particulars({ payload, zone }: { payload: CertificatePayload; zone: string }) {
  const day = (iso: string) => dayIn(Date.parse(iso), zone)
  const {
    item,
    method,
    work,
    results,
    reworks,
    earlier,
    instruments,
    quirks,
    deviations,
    withdrawn = [],
    faults = [],
    evidence = [],
  } = payload
  return (
    <section className="stack" aria-labelledby="particulars">
      <h2 id="particulars">Particulars</h2>
      <dl className={styles.particulars}>
        <Entry name="Unit">
          {item.tag}, number {item.number} of {item.design} rev {item.revision}. {item.condition}
        </Entry>
        <Entry name="Mended">
          {reworks.length === 0
            ? faults.some(isRealFault)
              ? nothingChangedWords(faults)
              : 'Nothing.'
            : reworks.map((rework) => `${day(rework.at)}: ${rework.fault ? `${rework.fault}. ` : ''}${rework.what}`).join('; ')}
        </Entry>
        {earlier.length > 0 && (
          <Entry name="No longer counted">
            {earlier.map((reading) => `${reading.check} ${shownWithUnit(reading)}, ${reading.verdict}, ${day(reading.takenAt)}`).join('; ')}
          </Entry>
        )}
        {withdrawn.map((one) => (
          <Entry key={one.serial} name="Withdrawn before">
            <Link className="code" href={`/certificates/${one.serial}`}>
              {one.serial}
            </Link>{' '}
            on {day(one.at)}: {one.reason} {one.again.length > 0 && `Measured again since: ${one.again.join(', ')}.`}
          </Entry>
        ))}
        {quirks.length > 0 && <Entry name="Known quirks">{quirks.join(' ')}</Entry>}
        <Entry name="When and where">
          {day(work.from)} to {day(work.to)}. {payload.place} {payload.received}
        </Entry>
        {results.flatMap(({ check, soak }) =>
          soak ? (
            <Entry key={check} name="Soak">
              {check}: {soakWords(soak)}
            </Entry>
          ) : (
            []
          ),
        )}
        {results.flatMap(({ check, released }) =>
          released ? (
            <Entry key={check} name={`Hold point ${check}`}>
              {releaseWords(released).replace(/^r/, 'R')} {day(released.at)}
            </Entry>
          ) : (
            []
          ),
        )}
        <Entry name="Instruments">
          {instruments
            .map((one) => [one.name, one.accuracy, one.checkedAt && `checked ${day(one.checkedAt)}`].filter(Boolean).join(', '))
            .join('; ') || 'None.'}
        </Entry>
        <Entry name="Decision rule">{payload.decisionRule.words}</Entry>
        <Entry name="Doubt">{method.doubt}</Entry>
        <Entry name="Method">
          {method.checklist}, revision {method.revision}, SHA-256 <span className={`num ${styles.hash}`}>{method.digest}</span>
        </Entry>
        {item.fitted
          .filter((part) => part.sha256)
          .map((part) => (
            <Entry key={part.designators} name={`Programmed, ${part.designators}`}>
              {part.part}, image <span className={`num ${styles.hash}`}>{part.sha256}</span>
            </Entry>
          ))}
        {evidence.map((piece) => (
          <Entry key={`${piece.check} ${piece.sha256}`} name={evidenceTitle(piece)}>
            {[piece.name, piece.words].filter(Boolean).join('. ')} SHA-256 <span className={`num ${styles.hash}`}>{piece.sha256}</span>
          </Entry>
        ))}
        <Entry name="Sampling">{payload.sampling}</Entry>
        <Entry name="Departures">{deviations.length === 0 ? 'None.' : deviations.join(' ')}</Entry>
        <Entry name="From outside">{payload.external}</Entry>
        <Entry name="Made for">
          {payload.madeFor.campaign}, in aid of {payload.madeFor.cause}. {payload.madeFor.contact}.
        </Entry>
        <Entry name="Issued by">
          {payload.issuer.name}, {payload.issuer.address}
        </Entry>
        <Entry name="Bounds">
          {payload.scope} {payload.notClaimed} {payload.copying}
        </Entry>
      </dl>
    </section>
  )
}

function Entry({ name, children }: { name: string; children: ReactNode }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}
