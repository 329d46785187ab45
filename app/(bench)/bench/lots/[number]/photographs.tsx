'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { PhotoFrame } from '#app/_ui/photo-frame.tsx'
import type { Prepared } from '#sale/lots/prepare.service'
import styles from './prepare.module.css'

/** The photographs of a lot; the first one stands for it everywhere. */
export function Photographs({ lot, photographs }: { lot: number; photographs: Prepared['photographs'] }) {
  const router = useRouter()
  const add = useCommand(api.lots.addPhotograph.mutate)
  const remove = useCommand(api.lots.removePhotograph.mutate)
  const [added, setAdded] = useState(0)
  return (
    <>
      {photographs.length > 0 && (
        <ul className={`plain-list ${styles.pictures}`}>
          {photographs.map(({ seq, ...photograph }) => (
            <li key={seq} className="stack close">
              <PhotoFrame {...photograph} alt={photograph.caption} shape="wide" sizes="240px" />
              <CommandForm
                run={async () => (await remove.run({ lot, seq })) ?? null}
                pending={remove.pending}
                refusal={remove.refusal}
                onDone={() => router.refresh()}
                label={`Photograph: ${photograph.caption}`}
              >
                <SubmitButton kind="line">Remove it</SubmitButton>
              </CommandForm>
            </li>
          ))}
        </ul>
      )}
      <CommandForm
        key={added}
        run={async (form) => (await add.run({ lot, sha: form.text('sha'), caption: form.text('caption') })) ?? null}
        pending={add.pending}
        refusal={add.refusal}
        onDone={() => {
          setAdded(added + 1)
          router.refresh()
        }}
        label="Add a photograph"
      >
        <PhotoField name="sha" label="A photograph" hint="JPEG, PNG or WebP, up to 15 MB. The camera’s own data is removed." />
        <TextField name="caption" label="What it shows" width="full" hint="Read out to people who cannot see it." />
        <SubmitButton>Add the photograph</SubmitButton>
      </CommandForm>
    </>
  )
}
