'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import type { CampaignLine } from '#end/next-campaign/next-campaign.contract'

/** Every campaign of the house. The books and papers of an earlier one are worked on after going there. */
export function CampaignsList({ lines }: { lines: CampaignLine[] }) {
  return (
    <ul className="plain-list stack close">
      {lines.map((line) => (
        <li key={line.slug} className="row apart">
          <span>
            <b>{line.name}</b>, {sayWhen(line.streamOpensAt, line.zone, 'day')}
            {line.endedAt === null ? ' (the present one)' : ''}
            {line.isHere && '. You are at work here.'}
            {sayLeft(line)}
            {line.endedAt !== null && (
              <>
                {' '}
                <Link href={`/campaigns/${line.slug}`}>Its public page</Link>
              </>
            )}
          </span>
          {!line.isHere && <GoThere line={line} />}
        </li>
      ))}
    </ul>
  )
}

/** What is still to be done in an earlier one. */
function sayLeft({ unpaid, notArrived }: CampaignLine): string {
  const lots = (count: number) => (count === 1 ? 'one lot is' : `${count} lots are`)
  const left = [unpaid > 0 && `${lots(unpaid)} not paid`, notArrived > 0 && `${lots(notArrived)} not known to have arrived`].filter(Boolean)
  return left.length === 0 ? '' : `; ${left.join(', ')}`
}

function GoThere({ line: { slug, endedAt } }: { line: CampaignLine }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.nextCampaign.workIn.mutate)
  return (
    <CommandForm run={() => run({ slug })} pending={pending} refusal={refusal} onDone={() => router.refresh()}>
      <SubmitButton>{endedAt === null ? 'Back to this one' : 'Work on this one'}</SubmitButton>
    </CommandForm>
  )
}
