import { EvidencePiece } from '#app/_ui/evidence-piece.tsx'
import type { RecordView } from '#floor/record/record.service'

/** What the maker chose of the evidence: pictures, drawn sweeps, images of firmware, sounds, each with its hash. */
export function Evidence({ pieces }: { pieces: RecordView['evidence'] }) {
  if (pieces.length === 0) return null
  return (
    <section className="stack" aria-labelledby="evidence">
      <h2 id="evidence">Evidence</h2>
      {pieces.map((piece) => (
        <EvidencePiece key={piece.id} piece={piece} />
      ))}
      <p className="small quiet">
        The hash is that of the file as it was sent. Sweeps and images are given to the byte; pictures and recordings are shown without what
        a camera writes into them, so the files behind them have others.
      </p>
    </section>
  )
}
