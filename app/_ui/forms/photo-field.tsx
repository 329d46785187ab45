'use client'

import { useEffect, useId, useRef, useState } from 'react'
import { Field, type FieldProps } from './field'
import styles from './forms.module.css'

export interface Photograph {
  sha: string
  width: number
  height: number
}

export interface PhotoFieldProps extends FieldProps {
  /** A photograph that is there already. */
  defaultSha?: string
  onPhotograph?: (photograph: Photograph) => void
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
export function PhotoField({ defaultSha, onPhotograph, ...field }: PhotoFieldProps) {
  const first: Step = defaultSha ? { is: 'kept', sha: defaultSha, preview: `/files/${defaultSha}-480.webp` } : { is: 'empty' }
  const [step, setStep] = useState<Step>(first)
  const turn = useRef(0)
  const fileId = useId()
  const preview = step.is === 'sending' || step.is === 'kept' ? step.preview : null
  useEffect(() => {
    if (preview?.startsWith('blob:')) return () => URL.revokeObjectURL(preview)
  }, [preview])

  const take = async (file: File | undefined) => {
    if (!file) return
    const mine = ++turn.current
    setStep({ is: 'sending', preview: URL.createObjectURL(file) })
    const answer = await sendPhotograph(file)
    if (mine !== turn.current) return
    if ('words' in answer) return setStep({ is: 'failed', words: answer.words })
    setStep({ is: 'kept', sha: answer.sha, preview: `/files/${answer.sha}-480.webp` })
    onPhotograph?.(answer)
  }

  return (
    <Field {...field} error={step.is === 'failed' ? step.words : field.error}>
      {({ id, describedBy, error }) => (
        <div className={styles.photo}>
          {/* biome-ignore lint/performance/noImgElement: a picture that is on this phone. */}
          {preview && <img src={preview} alt="The photograph just chosen" className={styles.preview} />}
          <div className={styles.photoButtons}>
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
          <input type="hidden" name={field.name} value={step.is === 'kept' ? step.sha : ''} />
          <span role="status" className={styles.hint}>
            {step.is === 'sending' ? 'Sending the photograph…' : step.is === 'kept' ? 'The photograph is kept.' : ''}
          </span>
        </div>
      )}
    </Field>
  )
}

const LOST = 'The photograph did not get through. Check the connection and take it again.'

async function sendPhotograph(file: File): Promise<Photograph | { words: string }> {
  let answer: Response
  try {
    answer = await fetch('/files/photographs', { method: 'POST', body: file, headers: { 'content-type': file.type } })
  } catch (cause) {
    if (cause instanceof TypeError) return { words: LOST }
    throw cause
  }
  const body: unknown = await answer.json().catch(() => null)
  if (answer.ok && isPhotograph(body)) return body
  return { words: wordsOf(body) ?? LOST }
}

const isPhotograph = (body: unknown): body is Photograph =>
  typeof body === 'object' && body !== null && 'sha' in body && typeof body.sha === 'string' && 'width' in body && 'height' in body

const wordsOf = (body: unknown): string | null =>
  typeof body === 'object' && body !== null && 'words' in body && typeof body.words === 'string' ? body.words : null
