'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { MINUTE } from '#kernel/instant'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import { TimeFields } from '../time-fields'

/** Moves an item; a clash is said at the time. */
export function MoveForm({ item, zone, civil }: { item: ProgrammeItem; zone: string; civil: { on: string; at: string } }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.programme.move.mutate)
  const isClosing = item.kind === 'closing'
  return (
    <CommandForm
      label="Move it"
      pending={pending}
      refusal={refusal}
      run={(form) =>
        run({
          itemId: item.id,
          title: isClosing ? '' : form.text('title'),
          note: form.text('note'),
          on: form.text('on'),
          at: form.text('at'),
          which: form.text('which') as '' | 'first' | 'second',
          reason: item.isAnnounced ? form.text('reason') : '',
          ...(!isClosing && { minutes: form.text('minutes'), keepsTime: form.ticked('keepsTime') }),
        })
      }
      onDone={() => {
        router.push('/bench/programme')
        router.refresh()
      }}
    >
      {!isClosing && (
        <TextField name="title" label={item.kind === 'guest' ? 'Who comes?' : 'What is it called?'} defaultValue={item.title} />
      )}
      <TimeFields zone={zone} on={civil.on} at={civil.at} asksWhich={refusal?.fields.which !== undefined} />
      {!isClosing && (
        <TextField
          name="minutes"
          label="For how many minutes?"
          width="code"
          inputMode="numeric"
          defaultValue={String((item.endsAt - item.startsAt) / MINUTE)}
        />
      )}
      {!isClosing && (
        <CheckField
          name="keepsTime"
          label="It cannot come later"
          hint="When the rest moves, it goes around this."
          defaultChecked={item.keepsTime}
        />
      )}
      <TextField name="note" label="A line for the programme" optional defaultValue={item.note} />
      {item.isAnnounced && (
        <TextField name="reason" label="Why it moves" optional hint="Everybody can read it. Needed when the time changes." />
      )}
      <SubmitButton>Keep this</SubmitButton>
    </CommandForm>
  )
}
