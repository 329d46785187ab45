import type { ReactNode } from 'react'
import { evidenceTitle } from '#bench/certificates/sentences.rules'
import type { EvidenceView } from '#bench/units/evidence.contract'
import type { RecordingKind } from '#runtime/disk/recording-kinds.rules'
import styles from './evidence-piece.module.css'
import { Recording } from './recording'
import { SweepChart } from './sweep-chart'

/** One piece of evidence: the picture, the drawn sweep, the sound, or the image of firmware with its hash, and what was written beside it. */
export function EvidencePiece({ piece, children }: { piece: Omit<EvidenceView, 'by' | 'isShown'>; children?: ReactNode }) {
  const { kind, sha, ending, bytes, name, words, sweep } = piece
  const title = evidenceTitle(piece)
  return (
    <figure className={styles.piece}>
      <figcaption>
        <b>{title}</b>
        {name !== '' && <span className="small quiet">, {name}</span>}
      </figcaption>
      {kind === 'picture' && (
        <a href={`/files/${sha}-1600.webp`} className={styles.picture}>
          {/* biome-ignore lint/performance/noImgElement: our files come in three widths already. */}
          <img src={`/files/${sha}-960.webp`} alt={words || title} loading="lazy" decoding="async" />
        </a>
      )}
      {kind === 'sweep' && sweep && <SweepChart sweep={sweep} />}
      {kind === 'recording' && (
        <Recording
          sha={sha}
          kind={ending as RecordingKind}
          bytes={bytes ?? 0}
          caption={name || title}
          description={words || 'Nothing was written beside it.'}
        />
      )}
      {words !== '' && kind !== 'recording' && <p className={`small ${styles.words}`}>{words}</p>}
      <p className="small quiet">
        {(kind === 'sweep' || kind === 'firmware') && (
          <>
            <a href={`/files/${sha}.${ending}`} download={name || true}>
              The file, {(bytes ?? 0).toLocaleString('en-GB')} bytes
            </a>
            {'. '}
          </>
        )}
        SHA-256 <span className={`num ${styles.hash}`}>{sha}</span>
      </p>
      {children}
    </figure>
  )
}
