'use client'

import { useEffect, useId, useRef, useState } from 'react'
import { classes } from '../classes'
import { Field, type FieldProps } from './field'
import fields from './field.module.css'
import { KeptInput } from './kept-input'
import styles from './photo-field.module.css'
import { sendPhotograph } from './send-photograph'

export interface PhotoFieldProps extends FieldProps {
  /** A photograph that is there already. */
  defaultSha?: string
  /**
   * Where the picture is put instead of being sent at once: on the phone, until there is a connection. `taken` is what
   * is kept there now; `take` answers with words where it is no picture.
   */
  onPhone?: { taken: Blob | null; take(file: File): Promise<string | null> }
  /** One large target, for a page that begins with it. */
  wide?: boolean
  /** A picture that was dropped or pasted elsewhere on the sheet. */
  given?: File | null
}

type Step =
  | { is: 'empty' }
  | { is: 'sending'; preview: string }
  | { is: 'kept'; sha: string; preview: string }
  | { is: 'failed'; words: string }

/**
 * Takes a photograph with the phone's camera or from a file, sends it at once and keeps its sha in a
 * hidden field of the form, so that sending the form itself is quick.
 */
export function PhotoField({ defaultSha, onPhone, wide, given = null, ...field }: PhotoFieldProps) {
  const [step, setStep] = useState(keptAs(defaultSha))
  const turn = useRef(0)
  const fileId = useId()
  const onThisPhone = useObjectAddress(onPhone?.taken ?? null)
  const sent = step.is === 'sending' || step.is === 'kept' ? step.preview : null
  const preview = onPhone ? onThisPhone : sent
  useEffect(() => {
    if (sent?.startsWith('blob:')) return () => URL.revokeObjectURL(sent)
  }, [sent])

  const take = async (file: File | undefined) => {
    if (!file) return
    const mine = ++turn.current
    if (onPhone) {
      const words = await onPhone.take(file)
      return setStep(words === null ? { is: 'empty' } : { is: 'failed', words })
    }
    setStep({ is: 'sending', preview: URL.createObjectURL(file) })
    const answer = await sendPhotograph(file)
    if (mine !== turn.current) return
    setStep('words' in answer ? { is: 'failed', words: answer.words } : keptAs(answer.sha))
  }

  const latest = useRef(take)
  latest.current = take
  useEffect(() => {
    if (given) void latest.current(given)
  }, [given])

  const said = step.is === 'sending' ? 'Sending the photograph…' : step.is === 'kept' ? 'The photograph is kept.' : ''
  return (
    <Field {...field} error={step.is === 'failed' ? step.words : field.error}>
      {({ id, describedBy, error }) => (
        <div className={classes(styles.photo, wide && styles.wide)}>
          {/* biome-ignore lint/performance/noImgElement: a picture that is on this phone. */}
          {preview && <img src={preview} alt="The photograph just chosen" className={styles.preview} />}
          <div className={styles.buttons}>
            <label className={styles.camera}>
              {preview ? 'Photograph it again' : 'Photograph it'}
              <input
                id={id}
                type="file"
                accept="image/jpeg,image/png,image/webp"
                capture="environment"
                onChange={(event) => take(event.currentTarget.files?.[0])}
                aria-describedby={describedBy}
                aria-invalid={error ? true : undefined}
              />
            </label>
            <label className={styles.file} htmlFor={fileId}>
              Choose a picture
              <input
                id={fileId}
                type="file"
                accept="image/jpeg,image/png,image/webp"
                onChange={(event) => take(event.currentTarget.files?.[0])}
              />
            </label>
          </div>
          {!onPhone && (
            <KeptInput
              name={field.name}
              value={step.is === 'kept' ? step.sha : ''}
              first={defaultSha}
              giveBack={(sha) => setStep(keptAs(sha))}
            />
          )}
          <span role="status" className={fields.hint}>
            {onPhone && preview ? 'Kept on this phone until it is sent.' : said}
          </span>
        </div>
      )}
    </Field>
  )
}

const keptAs = (sha: string | undefined): Step => (sha ? { is: 'kept', sha, preview: `/files/${sha}-480.webp` } : { is: 'empty' })

/** An address for a picture that lies on this phone, given back when it is not shown any more. */
function useObjectAddress(picture: Blob | null): string | null {
  const [address, setAddress] = useState<string | null>(null)
  useEffect(() => {
    if (!picture) return setAddress(null)
    const made = URL.createObjectURL(picture)
    setAddress(made)
    return () => URL.revokeObjectURL(made)
  }, [picture])
  return address
}
