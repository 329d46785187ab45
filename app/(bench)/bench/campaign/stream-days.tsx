'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { civilOf } from '#kernel/civil'
import { zonePlace } from '#kernel/wall-clock'
import { sayStreamDay } from '#people/campaign/stream-days.rules'
import { sayClosings } from '#sale/programme/day-words.rules'
import type { StreamDayLine } from '#sale/programme/programme.contract'

interface StreamDaysProps {
  days: readonly StreamDayLine[]
  zone: string
}

/** The stream days of the campaign: the first is set above, further ones are added here. */
export function StreamDays({ days, zone }: StreamDaysProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.programme.addDay.mutate)
  return (
    <section className="sheet stack" id="days" aria-labelledby="days-title">
      <h2 id="days-title">Stream days</h2>
      <p className="quiet">
        What is left after the first stream can be sold on a further day of the same campaign. Everybody sees a day as soon as it is added;
        nothing that was announced moves by it.
      </p>
      <ol className="plain-list stack">
        {days.map((day) => (
          <li key={day.number} className="stack close">
            <p>
              <Link prefetch={false} href={`/bench/programme?day=${day.number}`}>
                {sayStreamDay(day, zone)}
              </Link>
              , {sayClosings(day.closings)}
            </p>
            {day.number > 1 && (
              <div className="row">
                <MoveDay day={day} zone={zone} />
                {day.whyKept === null ? <RemoveDay day={day} zone={zone} /> : <p className="small quiet">{day.whyKept}</p>}
              </div>
            )}
          </li>
        ))}
      </ol>
      <CommandForm
        label="Add a stream day"
        pending={pending}
        refusal={refusal}
        emptyWhenDone
        run={(form) => run({ opens: form.text('opens'), closes: form.text('closes') })}
        onDone={() => router.refresh()}
      >
        <h3>Add a stream day</h3>
        <SpanFields zone={zone} />
        <SubmitButton kind="line">Add this day</SubmitButton>
      </CommandForm>
    </section>
  )
}

function SpanFields({ zone, day }: { zone: string; day?: StreamDayLine }) {
  return (
    <>
      <TextField
        name="opens"
        label={`It begins, in ${zonePlace(zone)}`}
        type="datetime-local"
        width="short"
        defaultValue={day && civilOf(day.opensAt, zone)}
      />
      <TextField
        name="closes"
        label="It ends"
        hint="Three days later at most."
        type="datetime-local"
        width="short"
        defaultValue={day && civilOf(day.closesAt, zone)}
      />
    </>
  )
}

function MoveDay({ day, zone }: { day: StreamDayLine; zone: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.programme.moveDay.mutate)
  return (
    <ConfirmButton
      kind="first"
      title="When does this stream day begin and end?"
      undoes={<p>Nothing that stands in it moves: what would have no room any more is named, to be moved first.</p>}
      fields={<SpanFields zone={zone} day={day} />}
      confirm="Save"
      pending={pending}
      refusal={refusal}
      run={(form) => run({ day: day.number, opens: form.text('opens'), closes: form.text('closes') })}
      onDone={() => router.refresh()}
    >
      Change its hours…
    </ConfirmButton>
  )
}

function RemoveDay({ day, zone }: { day: StreamDayLine; zone: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.programme.removeDay.mutate)
  return (
    <ConfirmButton
      title={`Take away ${sayStreamDay(day, zone)}?`}
      undoes={<p>Nothing stands in it. It is gone from every page at once, and can be added again.</p>}
      confirm="Take it away"
      keep="Keep it"
      pending={pending}
      refusal={refusal}
      run={async () => (await run({ day: day.number })) ?? null}
      onDone={() => router.refresh()}
    >
      Take it away…
    </ConfirmButton>
  )
}
