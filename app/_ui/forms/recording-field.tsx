'use client'

import { useRef, useState } from 'react'
import { Field, type FieldProps } from './field'
import fields from './field.module.css'
import { KeptInput } from './kept-input'
import styles from './photo-field.module.css'
import { sendRecording } from './send-recording'

const TAKEN = 'video/mp4,video/webm,audio/mpeg,audio/mp4,audio/x-m4a,audio/ogg,audio/wav'

type Step =
  | { is: 'empty' }
  | { is: 'sending'; name: string; done: number; stop: AbortController }
  | { is: 'kept'; name: string; sha: string }
  | { is: 'failed'; words: string }

/** Takes sound or video from the phone's camera or a file, sends it at once and keeps its sha in a hidden field of the form. */
export function RecordingField(field: FieldProps) {
  const [step, setStep] = useState<Step>({ is: 'empty' })
  const turn = useRef(0)
  const take = async (file: File | undefined) => {
    if (!file) return
    const mine = ++turn.current
    const stop = new AbortController()
    const sending = (done: number) => setStep({ is: 'sending', name: file.name, done, stop })
    sending(0)
    const sent = await sendRecording(file, { signal: stop.signal, onProgress: (done) => mine === turn.current && sending(done) })
    if (mine === turn.current)
      setStep('words' in sent ? { is: 'failed', words: sent.words } : { is: 'kept', name: file.name, sha: sent.sha })
  }
  return (
    <Field {...field} error={step.is === 'failed' ? step.words : field.error}>
      {({ id, describedBy, error }) => (
        <div className={styles.photo}>
          <div className={styles.buttons}>
            <label className={styles.camera}>
              {step.is === 'kept' ? 'Choose another' : 'Record it, or choose a file'}
              <input
                id={id}
                type="file"
                accept={TAKEN}
                onChange={(event) => take(event.currentTarget.files?.[0])}
                aria-describedby={describedBy}
                aria-invalid={error ? true : undefined}
              />
            </label>
            {step.is === 'sending' && (
              <button type="button" className="button-line" onClick={() => step.stop.abort()}>
                Stop sending
              </button>
            )}
          </div>
          {step.is === 'sending' && <progress value={step.done} max={1} aria-label={`Sending ${step.name}`} className={styles.progress} />}
          <KeptInput
            name={field.name}
            value={step.is === 'kept' ? step.sha : ''}
            giveBack={(sha) => setStep(sha === '' ? { is: 'empty' } : { is: 'kept', name: 'The recording', sha })}
          />
          <span role="status" className={fields.hint}>
            {step.is === 'sending' && `Sending ${step.name}…`}
            {step.is === 'kept' && `${step.name} is kept.`}
          </span>
        </div>
      )}
    </Field>
  )
}
