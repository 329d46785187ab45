'use client'

import { useId } from 'react'
import { EVIDENCE_NOUNS, type EvidenceKind } from '#bench/units/evidence.contract'
import { Field } from './field'
import photo from './photo-field.module.css'
import type { SentEvidence } from './send-evidence'

export type EvidenceStep =
  | { is: 'empty' }
  | { is: 'sending'; file: File; kind: EvidenceKind }
  | { is: 'kept'; name: string; sent: SentEvidence }
  /** The house was not reached; a picture can wait on this device. */
  | { is: 'lost'; file: File; kind: EvidenceKind; words: string }
  | { is: 'failed'; words: string }

const TAKEN =
  'image/jpeg,image/png,image/webp,audio/*,video/mp4,video/webm,.csv,.tsv,.txt,.bin,.hex,.ihx,.img,.rom,.uf2,.s19,.srec,.jed,text/csv,application/octet-stream'

/** Takes one file of evidence, and says what it was taken for. */
export function EvidenceField({ step, take }: { step: EvidenceStep; take(file: File | undefined): void }) {
  const statusId = useId()
  const error = step.is === 'failed' ? step.words : step.is === 'lost' ? lostWords(step) : undefined
  return (
    <Field
      name="sha"
      label="File"
      hint="A picture, also of a scope; a sweep as CSV; an image of firmware; sound or a short film. 15 MB at most, a sweep 500 kB."
      error={error}
    >
      {({ id, describedBy, error }) => (
        <div className={photo.photo}>
          <div className={photo.buttons}>
            <label className={photo.camera}>
              {step.is === 'kept' ? 'Choose another' : 'Choose a file'}
              <input
                id={id}
                type="file"
                accept={TAKEN}
                onChange={(event) => take(event.currentTarget.files?.[0])}
                aria-describedby={[describedBy, statusId].filter(Boolean).join(' ')}
                aria-invalid={error ? true : undefined}
              />
            </label>
            {step.is === 'lost' && (
              <button type="button" className="button-line" onClick={() => take(step.file)}>
                Try once more
              </button>
            )}
          </div>
          <span id={statusId} role="status" className="small">
            {step.is === 'sending' && `Sending ${step.file.name}…`}
            {step.is === 'kept' && `${step.name} has arrived: ${EVIDENCE_NOUNS[step.sent.kind].toLowerCase()}.`}
          </span>
        </div>
      )}
    </Field>
  )
}

const lostWords = ({ kind, words }: { kind: EvidenceKind; words: string }) =>
  kind === 'picture' ? 'There is no line just now. The picture can wait on this device.' : words
