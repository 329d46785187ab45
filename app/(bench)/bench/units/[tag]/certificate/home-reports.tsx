import { Chip } from '#app/_ui/chip.tsx'
import { When } from '#app/_ui/when.tsx'
import type { HomeReport } from '#bench/certificates/home.service'

/** After the sale: the card that goes into the box, and what buyers found at home and shared. */
export function HomeReports({ tag, code, reports }: { tag: string; code: string; reports: HomeReport[] }) {
  return (
    <section className="sheet stack" aria-labelledby="at-home">
      <h2 id="at-home">After the sale</h2>
      <p>
        The card in the box carries the code <b className="num">{code}</b>; with it whoever has {tag} can share what they measured at home.
      </p>
      <ul className="plain-list row">
        <li>
          <a className="button-line" href={`/bench/units/${tag}/card.pdf`}>
            Card for the box (A6)
          </a>
        </li>
        <li>
          <a className="button-line" href={`/bench/units/${tag}/label.pdf`}>
            Label of the unit
          </a>
        </li>
      </ul>
      {reports.length === 0 && <p className="quiet">Nothing has been shared yet.</p>}
      {reports.map(({ id, at, serial, meter, note, readings }) => (
        <article key={id} className="stack close">
          <h3>
            Measured at home, <When at={at} zone="UTC" brief />
          </h3>
          <ul>
            {readings.map(({ check, title, bench, shown, agrees, words }) => (
              <li key={check}>
                <span className="num">{check}</span> {title}: bench <b className="num">{bench}</b>, home <b className="num">{shown}</b>{' '}
                <Chip tone={agrees ? 'ok' : 'bad'}>{agrees ? 'Agrees' : 'Differs'}</Chip> <span className="quiet">{words}</span>
              </li>
            ))}
          </ul>
          {note && <p>“{note}”</p>}
          <p className="small quiet">
            Meter: {meter}.{serial && ` Compared with ${serial}.`}
          </p>
        </article>
      ))}
    </section>
  )
}
