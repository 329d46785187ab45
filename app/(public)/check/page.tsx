import type { Metadata } from 'next'
import { CheckDesk } from './check-desk'

export const metadata: Metadata = {
  title: 'Check a record',
  description: 'Checks here, on your own device, whether a signed record of tests was changed since it was signed.',
}

/** Where anybody checks a signed record, whoever gave it to them. What is chosen stays on their device. */
export default function CheckPage() {
  return (
    <article className="page stack">
      <h1>Check a record</h1>
      <p>
        Does it come from this house, and has a single letter of it been changed since it was signed? This page finds out on your own
        device: no file leaves it, and no server is asked whether the signature holds.
      </p>
      <noscript>
        <p>
          Checking here needs a browser that runs scripts. Without them, use <a href="#without">the program in one file</a> below, with
          Node.
        </p>
      </noscript>
      <CheckDesk />
      <section className="stack close" aria-labelledby="trust">
        <h2 id="trust">Why trust the key?</h2>
        <p>
          A signature is as good as the key it is checked with. A key counts as the house’s when the house publishes it, or this browser saw
          it published here before; never because it came with a file. This browser remembers each key it saw, and says so when one is taken
          away. A key’s name is its own fingerprint, so that none can stand under another’s name. Compare the fingerprint with the one on
          the paper in the box or with a recording of the stream; then not even this house can pass off another key.
        </p>
        <h2>What it does not prove</h2>
        <p>
          That what was written down was true, or that the machine is still as it was. It proves that the record is the one that was signed.
        </p>
        <h2 id="without">Without this page</h2>
        <p>
          <a href="/tagstrip-check.mjs" download>
            A program in one file
          </a>
          , short enough to be read whole before you trust it, checks signed records, how they stand, histories, receipts and packs with
          nothing but Node, on a computer that was never connected. It prints the fingerprint of every key; named with <code>--key</code>,
          none but that one counts:
        </p>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.1.1). */}
        <pre className="small" style={{ overflowX: 'auto' }} tabIndex={0}>
          <code>node tagstrip-check.mjs TS-2027-0147-M.json history.json jwks.json --key x7Kp2aQ9dR4tLm0s</code>
        </pre>
      </section>
    </article>
  )
}
