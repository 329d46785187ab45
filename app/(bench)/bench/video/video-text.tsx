'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import styles from './video.module.css'

/** The text as it is now, and again when the recording begins at another second. */
export function VideoText({ initial, day }: { initial: { text: string; begins: string }; day: number | undefined }) {
  const [told, setTold] = useState(initial)
  const [said, setSaid] = useState('')
  const { run, pending, refusal } = useCommand(api.telling.describe.query)
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(told.text)
      setSaid('Copied.')
    } catch {
      setSaid('This browser does not let the page copy. Select the text and copy it yourself.')
    }
  }
  return (
    <>
      <CommandForm
        label="When the recording begins"
        pending={pending}
        refusal={refusal}
        run={(form) => run({ begins: form.text('begins'), day })}
        onDone={(answer) => {
          setTold(answer)
          setSaid('Updated.')
        }}
      >
        <TextField
          name="begins"
          label="When does the recording begin?"
          hint="By the stream’s clock, to the second. Chapters are counted from there."
          width="short"
          mono
          defaultValue={told.begins}
        />
        <SubmitButton kind="line">Count from there</SubmitButton>
      </CommandForm>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a block that scrolls must take the focus */}
      <pre className={styles.text} tabIndex={0}>
        {told.text}
      </pre>
      <div className="row">
        <button type="button" className="button" onClick={copy}>
          Copy the text
        </button>
        <span role="status" className="small">
          {said}
        </span>
      </div>
    </>
  )
}
