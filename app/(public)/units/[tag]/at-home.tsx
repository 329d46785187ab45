import type { CertificateResult } from '#bench/certificates/certificates.contract'
import { HOME_CAUTION, shownWithUnit } from '#bench/certificates/sentences.rules'
import { HowAtHome } from './how-at-home'

interface AtHomeProps {
  results: readonly CertificateResult[]
  /** Where a buyer writes their own readings beside the bench's. */
  href: string
}

/** The checks that the maker opened for home, so that a bidder reads before the sale what they will be able to try after it. */
export function AtHome({ results, href }: AtHomeProps) {
  const opened = results.filter(({ home }) => home)
  if (opened.length === 0) return null
  return (
    <section className="stack" aria-labelledby="at-home">
      <h2 id="at-home">What you can check at home</h2>
      <p>{HOME_CAUTION}</p>
      <ul className="plain-list stack">
        {opened.map((result) => (
          <li key={result.check} className="stack close">
            <h3>
              {result.check} {result.title}: {shownWithUnit(result)}
            </h3>
            <HowAtHome step={result} />
          </li>
        ))}
      </ul>
      <p>
        <a className="alone" href={href}>
          Compare your own findings with the bench’s
        </a>
      </p>
    </section>
  )
}
