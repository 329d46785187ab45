'use client'

import { useState } from 'react'
import { Field } from '../../../../_ui/forms/field'
import styles from './parcel.module.css'
import { shrinkPhoto } from './send-parcel'

/** The camera comes first: one tap, while the parcel is still in the other hand. The picture stays on the phone until it is sent. */
export function PhotoFirst({ photo, onPhoto }: { photo: string | null; onPhoto: (photo: string) => void }) {
  const [words, setWords] = useState<string | undefined>()
  const take = async (file: File | undefined) => {
    if (!file) return
    const small = await shrinkPhoto(file)
    setWords(small === null ? 'This is not a picture that can be read. Take a photograph, or choose a JPEG, PNG or WebP.' : undefined)
    if (small !== null) onPhoto(small)
  }
  return (
    <Field name="photoSha" label="The parcel, as it came" optional error={words}>
      {({ id, describedBy, error }) => (
        <label className={photo ? styles.photographed : styles.camera}>
          {/* biome-ignore lint/performance/noImgElement: a picture that is on this phone. */}
          {photo && <img src={photo} alt="The photograph just taken" />}
          <span className={styles.shutter}>{photo ? 'Photograph it again' : 'Photograph it'}</span>
          <input
            id={id}
            type="file"
            accept="image/*"
            capture="environment"
            onChange={(event) => take(event.currentTarget.files?.[0])}
            aria-describedby={describedBy}
            aria-invalid={error ? true : undefined}
          />
        </label>
      )}
    </Field>
  )
}
