'use client'

import { type MouseEvent, useRef, useState } from 'react'
import { Dialog } from '#app/_ui/dialog.tsx'
import { PhotoFrame } from '#app/_ui/photo-frame.tsx'
import type { LotPhotograph } from '#sale/lots/lots.contract'
import styles from './pictures.module.css'

/** The pictures of a lot in a row that a finger moves; each is enlarged by a tap, and without script opens by itself. */
export function Pictures({ photographs }: { photographs: readonly LotPhotograph[] }) {
  const dialog = useRef<HTMLDialogElement>(null)
  const [large, setLarge] = useState<LotPhotograph | null>(null)
  const enlarge = (event: MouseEvent, photograph: LotPhotograph) => {
    // Opened in a tab of its own, it is the picture by itself.
    if (event.metaKey || event.ctrlKey || event.shiftKey) return
    event.preventDefault()
    setLarge(photograph)
    dialog.current?.showModal()
  }
  return (
    <>
      <ul className={`plain-list ${styles.row}`} aria-label="Pictures">
        {photographs.map((photograph, index) => (
          <li key={photograph.sha}>
            <a href={`/files/${photograph.sha}-1600.webp`} onClick={(event) => enlarge(event, photograph)}>
              <PhotoFrame
                {...photograph}
                alt={`Enlarge: ${photograph.caption}`}
                caption={undefined}
                first={index === 0}
                shape="wide"
                sizes="(max-width: 899px) 90vw, 640px"
              />
            </a>
          </li>
        ))}
      </ul>
      <Dialog ref={dialog} titleId="enlarged" kind="first" onClose={() => setLarge(null)}>
        {large && (
          <div className="stack close">
            <p id="enlarged">{large.caption}</p>
            <PhotoFrame {...large} alt={large.caption} caption={undefined} sizes="92vw" />
            <button type="button" className="button-line" onClick={() => dialog.current?.close()}>
              Close
            </button>
          </div>
        )}
      </Dialog>
    </>
  )
}
