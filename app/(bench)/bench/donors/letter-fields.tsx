'use client'

import { useRef, useState } from 'react'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'

/** A letter drafted from the facts, to be changed, sent or copied. Its fields are `subject` and `body` of the form around it. */
export function LetterFields({ draft, hint }: { draft: { subject: string; body: string }; hint?: string }) {
  const around = useRef<HTMLDivElement>(null)
  const [said, setSaid] = useState('')
  const copy = async () => {
    const area = around.current?.querySelector('textarea')
    if (!area) return
    // The clipboard is missing over plain HTTP: then the letter is marked, to be copied by hand.
    try {
      await navigator.clipboard.writeText(area.value)
      setSaid('Copied.')
    } catch {
      area.select()
      setSaid('Selected. Copy it with the keyboard or a long press.')
    }
  }
  return (
    <div ref={around} className="stack close">
      <TextField name="subject" label="Subject" defaultValue={draft.subject} maxLength={200} />
      <TextareaField name="body" label="Letter" hint={hint} rows={10} defaultValue={draft.body} maxLength={5000} />
      <div className="row">
        <button type="button" className="button-line" onClick={copy}>
          Copy the letter
        </button>
        <span role="status" className="small quiet">
          {said}
        </span>
      </div>
    </div>
  )
}
