import styles from './certificate.module.css'
import { offlineProgram } from './offline.rules'

/** For whoever will not take our word for it: the two files, and what to do with them. */
export function CheckOffline({ serial, address }: { serial: string; address: string }) {
  const home = address.slice(0, address.indexOf('/certificates/'))
  return (
    <details>
      <summary>How to check it without us</summary>
      <div className="stack">
        <p>
          The record is a JSON Web Signature (RFC 7515, flattened) with Ed25519 (RFC 8037). Keep these two files; with them it can be
          checked on a computer that is never connected, by any library that knows JOSE. Get the key by another way than the record if you
          can: from the stream, or from somebody who had it earlier.
        </p>
        <ul>
          <li className="num small">
            <a href={`/certificates/${serial}.json`}>
              {home}/certificates/{serial}.json
            </a>
          </li>
          <li className="num small">
            <a href="/.well-known/jwks.json">{home}/.well-known/jwks.json</a>
          </li>
        </ul>
        <p>
          With Node and <span className="num">npm install jose</span>, saved as <span className="num">check.mjs</span>:
        </p>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.1.1). */}
        <pre className={styles.program} tabIndex={0}>
          <code>{offlineProgram(serial)}</code>
        </pre>
        <p>It prints the record, or stops with an error when one letter was changed.</p>
      </div>
    </details>
  )
}
