import type { PublicRecord } from '#bench/certificates/public-record.rules'
import { dayIn } from './record.rules'

/** How far the record can be trusted, said by the record itself. */
export function Bounds({ record, serial }: { record: PublicRecord; serial: string | null }) {
  return (
    <section className="stack" aria-labelledby="bounds">
      <h2 id="bounds">What this does and does not prove</h2>
      <p>
        {serial && 'The certificate is signed: anybody can check that not one letter of it has been changed since. '}
        {record.proves} It does not say that the machine is safe, lawful or certified by anyone; for mains, cells and anything you connect
        to it, your local rules come first.
      </p>
      <dl>
        <dt>How a verdict was reached</dt>
        <dd>{record.decision}</dd>
        <dt>What ± means</dt>
        <dd>{record.doubt}</dd>
        <dt>Instruments</dt>
        {record.instruments.length === 0 && <dd>None was used.</dd>}
        {record.instruments.map((one) => (
          <dd key={one.name}>
            {one.name}
            {one.accuracy && `, ${one.accuracy}`}
            {one.checkedAt !== null && `, last checked ${dayIn(one.checkedAt, 'UTC')}`}
          </dd>
        ))}
      </dl>
      <ul className="plain-list stack close">
        <li>
          <a className="alone" href={`/units/${record.tag}/record.json`}>
            This record as data (JSON)
          </a>
        </li>
        {serial && (
          <>
            <li>
              <a className="alone" href={`/certificates/${serial}`}>
                The certificate, and how to check it without us
              </a>
            </li>
            <li>
              <a className="alone" href={`/certificates/${serial}.pdf`}>
                The certificate to print (PDF, A4)
              </a>{' '}
              or{' '}
              <a className="alone" href={`/certificates/${serial}.pdf?paper=letter`}>
                on Letter
              </a>
            </li>
          </>
        )}
      </ul>
    </section>
  )
}
