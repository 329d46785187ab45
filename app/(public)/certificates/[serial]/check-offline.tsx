import styles from './certificate.module.css'

/** For whoever will not take our word for it: the two files, and what to do with them. */
export function CheckOffline({ serial, address }: { serial: string; address: string }) {
  const home = address.slice(0, address.indexOf('/certificates/'))
  return (
    <details>
      <summary>How to check it without us</summary>
      <div className="stack">
        <p>
          The record is a JSON Web Signature (RFC 7515, flattened) with Ed25519 (RFC 8037). Keep these two files; with them you can check it
          on a computer that is never connected, using any library that knows JOSE. If you can, get the key some other way than the record:
          from the stream, or from somebody who had it earlier.
        </p>
        <ul>
          <li className="num small">
            <a className="alone" href={`/certificates/${serial}.json`}>
              {home}/certificates/{serial}.json
            </a>
          </li>
          <li className="num small">
            <a className="alone" href="/.well-known/jwks.json">
              {home}/.well-known/jwks.json
            </a>
          </li>
        </ul>
        <p>
          <a href={`/check?serial=${serial}`}>The checking page</a> takes the files, works without a connection once it was opened, and
          names the first field that differs when it is given a record to compare. With nothing but Node,{' '}
          <a href="/tagstrip-check.mjs" download>
            a program in one file
          </a>{' '}
          does it too:
        </p>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.1.1). */}
        <pre className={styles.program} tabIndex={0}>
          <code>node tagstrip-check.mjs {serial}.json jwks.json</code>
        </pre>
      </div>
    </details>
  )
}
