import type { Metadata } from 'next'
import { DayPieces } from './day-pieces'
import { FormPieces } from './form-pieces'
import { MeasuredPieces } from './measured-pieces'
import styles from './pieces.module.css'
import { SmallPieces } from './small-pieces'

export const metadata: Metadata = { title: 'Pieces', robots: { index: false } }

/** Every piece in every state, so that a change to one is seen before it is met on a page. */
export default function PiecesPage() {
  return (
    <div className={`page stack wide ${styles.pieces}`}>
      <header className="stack close">
        <h1>Pieces</h1>
        <p className="quiet">Every piece of the look in every state, with invented figures. Nothing it shows is a real lot or unit.</p>
      </header>
      <SmallPieces />
      <MeasuredPieces />
      <DayPieces />
      <FormPieces />
      <section className={`air ${styles.air}`} aria-labelledby="on-air">
        <h2 id="on-air">On air</h2>
        <MeasuredPieces onAir />
        <DayPieces onAir />
      </section>
    </div>
  )
}
