'use client'

import Link from 'next/link'
import { useState } from 'react'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { readTag, wrongUnit } from '#bench/units/tag.rules'

/** Asks for the tag on the machine itself before anything can be entered: the guard against the wrong unit. */
export function HandSheet({ tag, take }: { tag: string; take(seen: string): void }) {
  const [wrong, setWrong] = useState<{ words: string; other: string | null } | null>(null)
  const refusal = wrong && { words: wrong.words, fields: { seen: wrong.words } }
  return (
    <section className="sheet act stack" aria-labelledby="in-hand">
      <h2 id="in-hand">Which machine do you have in front of you?</h2>
      <CommandForm
        label="Work on this machine"
        isTypedAnew
        pending={false}
        refusal={refusal}
        run={async (form) => {
          const typed = form.text('seen')
          const words = typed.trim() === '' ? 'Type or scan the tag that hangs on the machine.' : wrongUnit(typed, tag)
          if (words === null) take(typed)
          else setWrong({ words, other: readTag(typed) })
          return undefined
        }}
      >
        <TextField
          name="seen"
          label="Tag on the machine"
          hint="Read it off the machine or scan it; do not copy it from this screen."
          width="code"
          mono
          autoComplete="off"
          autoFocus
        />
        <div className="row">
          <SubmitButton>Start work</SubmitButton>
          {wrong?.other && wrong.other !== tag && <Link href={`/bench/units/${wrong.other}`}>Go to {wrong.other}</Link>}
        </div>
      </CommandForm>
    </section>
  )
}
