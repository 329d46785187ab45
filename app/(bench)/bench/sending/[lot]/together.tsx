'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import { When } from '#app/_ui/when.tsx'
import { plainMoney, showMoney } from '#kernel/money'
import type { SendingView } from '#money/sending/sending.contract'
import { TakeApartButton } from './take-apart-button'

/** What else of the same buyer goes in the same parcel, or could; and the postage of all of it. */
export function Together({ view, setsPostage }: { view: SendingView; setsPostage: boolean }) {
  if (view.beside.length > 0) return <Joined view={view} setsPostage={setsPostage} />
  if (view.couldJoin.length === 0) return null
  return (
    <section className="sheet stack" aria-labelledby="together">
      <h2 id="together">One parcel for several lots</h2>
      <p>
        The same buyer has also won {view.couldJoin.length === 1 ? 'one lot that has' : `${view.couldJoin.length} lots that have`} not been
        sent.
      </p>
      <Wish view={view} />
      {setsPostage ? <JoinForm view={view} /> : <p>The maker or the treasurer can put them in one parcel.</p>}
    </section>
  )
}

function Joined({ view, setsPostage }: { view: SendingView; setsPostage: boolean }) {
  const { postage, currency } = view
  return (
    <section className="sheet stack" aria-labelledby="together">
      <h2 id="together">In one parcel with</h2>
      <ul>
        {view.beside.map(({ lot, title }) => (
          <li key={lot}>
            <Link prefetch={false} href={`/bench/sending/${lot}`}>
              Lot {lot}
            </Link>
            , {title}
          </li>
        ))}
      </ul>
      <p>
        The buyer is charged {showMoney(postage.paidMinor, currency)} for the parcel: {partsOf(view)}.
      </p>
      <Wish view={view} />
      {setsPostage && view.sentAt === null && (
        <>
          <PostageOfParcel key={postage.paidMinor} view={view} />
          <TakeApartButton lot={view.lot} beside={view.beside.map(({ lot }) => lot)} />
        </>
      )}
    </section>
  )
}

/** What the buyer said on their own page; nothing where they said nothing. */
function Wish({ view: { wish, zone } }: { view: SendingView }) {
  if (wish === null) return null
  return (
    <p>
      <b>{wish.wants === 'one' ? 'The buyer asks for one parcel.' : 'The buyer asks for a parcel for each lot.'}</b> Said{' '}
      <When at={wish.at} zone={zone} brief />.
    </p>
  )
}

/** "£3.34 for lot 1, £3.33 for lot 2 and £3.33 for lot 3": the postage is split by the largest remainder. */
function partsOf({ lot, beside, postage, currency }: SendingView): string {
  const parts = [{ lot, postageMinor: postage.ownMinor }, ...beside].toSorted((a, b) => a.lot - b.lot)
  const words = parts.map(({ lot: one, postageMinor }) => `${showMoney(postageMinor, currency)} for lot ${one}`)
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}

function JoinForm({ view }: { view: SendingView }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.join.mutate)
  return (
    <CommandForm
      label="One parcel"
      pending={pending}
      refusal={refusal}
      run={(form) =>
        run({
          key,
          lots: [view.lot, ...view.couldJoin.flatMap(({ lot }) => (form.ticked(`lot-${lot}`) ? [lot] : []))],
          postage: form.text('postage'),
        })
      }
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <fieldset className="stack close">
        <legend>With lot {view.lot} in one parcel</legend>
        {view.couldJoin.map(({ lot, title }) => (
          <CheckField key={lot} name={`lot-${lot}`} label={`Lot ${lot}, ${title}`} />
        ))}
      </fieldset>
      <MoneyField
        name="postage"
        label="Postage of the whole parcel"
        currency={view.currency}
        optional
        hint="Leave it empty to charge each lot’s postage as it is. You can also set it later, once the parcel is weighed."
      />
      <div>
        <SubmitButton kind="line">Put them in one parcel</SubmitButton>
      </div>
    </CommandForm>
  )
}

function PostageOfParcel({ view }: { view: SendingView }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.parcelPostage.mutate)
  const { postage, currency } = view
  return (
    <CommandForm
      label="Postage of the parcel"
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, lot: view.lot, postage: form.text('postage') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <MoneyField
        name="postage"
        label="Postage of the whole parcel"
        currency={currency}
        defaultValue={plainMoney(postage.tableMinor ?? postage.paidMinor, currency)}
        hint={`${postage.words} Each lot bears a part of it, in proportion to what it was charged before.`}
      />
      <div>
        <SubmitButton kind="line">Charge this for the parcel</SubmitButton>
      </div>
    </CommandForm>
  )
}
