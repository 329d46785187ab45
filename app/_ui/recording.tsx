import { isSound, RECORDING_TYPES, type RecordingKind } from '#runtime/disk/recording-kinds.rules'
import styles from './recording.module.css'

export interface RecordingProps {
  sha: string
  kind: RecordingKind
  bytes: number
  caption: string
  /** What there is to hear and see, for those who cannot. */
  description: string
}

/** Sound or video from our own files. Nothing of it is fetched before it is played, and it plays without script. */
export function Recording({ sha, kind, bytes, caption, description }: RecordingProps) {
  const address = `/files/${sha}.${kind}`
  const source = <source src={address} type={RECORDING_TYPES[kind]} />
  return (
    <figure className={styles.recording}>
      <figcaption>
        <b>{caption}</b>{' '}
        <span className="small quiet">
          {isSound(kind) ? 'Sound' : 'Video'}, {sayBytes(bytes)}
        </span>
      </figcaption>
      {isSound(kind) ? (
        // biome-ignore lint/a11y/useMediaCaption: what is to be heard stands in words below, for everybody.
        <audio controls preload="none" aria-label={caption}>
          {source}
        </audio>
      ) : (
        // biome-ignore lint/a11y/useMediaCaption: what is to be seen and heard stands in words below, for everybody.
        <video controls preload="none" playsInline aria-label={caption}>
          {source}
        </video>
      )}
      <details>
        <summary className="small">In words</summary>
        <p className="small">{description}</p>
      </details>
    </figure>
  )
}

/** "0.8 MB", "40 kB": what it costs somebody on a slow line. */
const sayBytes = (bytes: number): string =>
  bytes < 100_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`
