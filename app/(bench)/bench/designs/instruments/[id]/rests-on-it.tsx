import Link from 'next/link'
import type { InstrumentSheet } from '#bench/units/instruments.service'

/** The units in which a reading that was taken with it stands. */
export function RestsOnIt({ units }: Pick<InstrumentSheet, 'units'>) {
  return (
    <section className="sheet stack" aria-labelledby="rests">
      <h2 id="rests">What depends on it</h2>
      {units.length === 0 ? (
        <p className="quiet">Nothing has been read with it yet.</p>
      ) : (
        <ul>
          {units.map(({ tag, stands }) => (
            <li key={tag}>
              <Link href={`/bench/units/${tag}`} className="code">
                {tag}
              </Link>
              : {stands} {stands === 1 ? 'reading stands' : 'readings stand'}
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}
