'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { RecordingField } from '#app/_ui/forms/recording-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { Recording } from '#app/_ui/recording.tsx'
import type { LotRecording } from '#sale/lots/lots.contract'

/** Sound and video of the machine running, for who cannot stand beside it. */
export function Recordings({ lot, recordings }: { lot: number; recordings: readonly (LotRecording & { seq: number })[] }) {
  const router = useRouter()
  const add = useCommand(api.lots.addRecording.mutate)
  const remove = useCommand(api.lots.removeRecording.mutate)
  const [added, setAdded] = useState(0)
  return (
    <>
      {recordings.length > 0 && (
        <ul className="plain-list stack">
          {recordings.map(({ seq, ...recording }) => (
            <li key={seq} className="stack close">
              <Recording {...recording} />
              <CommandForm
                run={async () => (await remove.run({ lot, seq })) ?? null}
                pending={remove.pending}
                refusal={remove.refusal}
                onDone={() => router.refresh()}
                label={`Recording: ${recording.caption}`}
              >
                <SubmitButton kind="line">Take it away</SubmitButton>
              </CommandForm>
            </li>
          ))}
        </ul>
      )}
      <CommandForm
        key={added}
        run={async (form) =>
          (await add.run({ lot, sha: form.text('sha'), caption: form.text('caption'), description: form.text('description') })) ?? null
        }
        pending={add.pending}
        refusal={add.refusal}
        onDone={() => {
          setAdded(added + 1)
          router.refresh()
        }}
        label="Add a recording"
      >
        <RecordingField
          name="sha"
          label="Sound or video of it running"
          hint="MP4 or WebM, MP3, M4A, Ogg or WAV, up to 15 MB. Of MP4 and M4A everything beside sound and picture is taken out, such as notes of the place (in an MP4 of fragments, as some browsers record it, all but what stands within their data). Other files stay as they are."
        />
        <TextField name="caption" label="What runs" width="full" hint="Such as: Tuning across 40 metres in the evening." />
        <TextareaField name="description" label="What there is to hear and see" hint="For those who cannot: in a few sentences." />
        <SubmitButton>Add the recording</SubmitButton>
      </CommandForm>
    </>
  )
}
