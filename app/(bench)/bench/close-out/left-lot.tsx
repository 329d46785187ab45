'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { FixedPriceDesk } from '#app/(bench)/bench/_fixed-price/fixed-price-desk.tsx'
import { TimeFields } from '#app/(bench)/bench/programme/time-fields.tsx'
import type { LeftLot } from '#end/close-out/checklist.contract'
import { type StreamDay, sayStreamDay } from '#people/campaign/stream-days.rules'
import { AFTERWARDS_WORDS } from '#sale/price/result.rules'
import { civilParts } from '#sale/programme/civil-time.rules'

interface LeftLotProps {
  left: LeftLot
  zone: string
  /** The next stream day; null where none is set. */
  next: StreamDay | null
  isMaker: boolean
}

/** A machine that nobody has: a fixed price, another closing, or it is kept. */
export function LeftLotTag({ left, zone, next, isMaker }: LeftLotProps) {
  return (
    <Tag code={`Lot ${left.lot}`} href={`/bench/lots/${left.lot}`}>
      <div className="stack close">
        <p>{left.title}</p>
        {left.afterwards !== '' && <p>{AFTERWARDS_WORDS[left.afterwards]}</p>}
        <FixedPriceDesk desk={left} />
        {isMaker && left.standing === null && (
          <div className="row">
            <SellAnew left={left} zone={zone} next={next} />
            <Keep left={left} />
          </div>
        )}
      </div>
    </Tag>
  )
}

function SellAnew({ left: { lot, title, unit }, zone, next }: Omit<LeftLotProps, 'isMaker'>) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.closeOut.sellAnew.mutate)
  return (
    <ConfirmButton
      kind="first"
      title={`Put ${unit} in a new lot`}
      undoes={
        <>
          <p>
            {title} gets a new lot with everything that lot {lot} said and showed of it. Look at its prices before it opens. What happened
            at the closing of lot {lot} stays as it is.
          </p>
          <p>
            {next ? (
              <>The next stream day is {sayStreamDay(next, zone)}.</>
            ) : (
              <>
                No further stream day is set. <Link href="/bench/campaign#days">Add one</Link> first, or leave day and time empty.
              </>
            )}
          </p>
        </>
      }
      fields={
        <TimeFields
          zone={zone}
          on={next ? civilParts(next.opensAt, zone).on : ''}
          at=""
          asksWhich={refusal?.fields.which !== undefined}
          isOptional
        />
      }
      confirm="Make the lot"
      keep="Not yet"
      pending={pending}
      refusal={refusal}
      run={(form) => {
        const at = form.text('at')
        // The day is filled in beforehand: without a time the closing is left to the planner.
        return run({ key, lot, on: at === '' ? '' : form.text('on'), at, which: form.text('which') as '' | 'first' | 'second' })
      }}
      onDone={({ number }) => {
        renew()
        router.push(`/bench/lots/${number}`)
      }}
    >
      Sell it at another closing…
    </ConfirmButton>
  )
}

function Keep({ left: { lot, afterwards } }: Pick<LeftLotProps, 'left'>) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.lots.afterwards.mutate)
  const isDecided = afterwards !== ''
  return (
    <CommandForm
      label={`What becomes of lot ${lot}`}
      pending={pending}
      refusal={refusal}
      run={async () => (await run({ lot, as: isDecided ? '' : 'kept' })) ?? null}
      onDone={() => router.refresh()}
    >
      <SubmitButton kind="line">{isDecided ? 'It is not decided after all' : 'We keep it'}</SubmitButton>
    </CommandForm>
  )
}
