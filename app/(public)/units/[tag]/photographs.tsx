import { PhotoFrame } from '#app/_ui/photo-frame.tsx'
import styles from './record.module.css'

/** The photographs of its lot, cut to one shape so that they stand in rows. */
export function Photographs({ photographs }: { photographs: { sha: string; caption: string }[] }) {
  return (
    <ul className={`plain-list ${styles.photographs}`}>
      {photographs.map(({ sha, caption }, index) => (
        <li key={sha}>
          <PhotoFrame
            sha={sha}
            alt={caption}
            width={480}
            height={320}
            sizes="(max-width: 639px) 90vw, 320px"
            shape="wide"
            first={index === 0}
          />
        </li>
      ))}
    </ul>
  )
}
