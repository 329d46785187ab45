import { HOUR, MINUTE } from '#kernel/instant'
import type { Given } from './gifts'
import { drawParcel } from './pictures'
import { keepPhotograph, nextKey, type Person, type Telling, visitor } from './stage'

const CONSENTS = { page: true, stream: true, card: false }

/** What came from outside in these weeks: a bag without a name, an offer that was not taken, something to go with a lot. */
export async function tellOutside(
  telling: Telling,
  { maker, volunteer }: { maker: Person; volunteer: Person },
  { designs }: Given,
): Promise<void> {
  const { now, goTo, say } = telling
  say('what comes from outside')
  const reader = visitor(telling)
  const parts = await volunteer.api.parts.list()

  goTo(now - 70 * HOUR)
  await reader.donors.promise({
    key: nextKey(),
    words: 'Forty transformers for mains, taken from old sets',
    quantity: 40,
    name: 'Corin Blythe',
    mail: 'corin@blythe.example',
    consents: CONSENTS,
  })
  goTo(now - 68 * HOUR)
  const { toApprove } = await maker.api.donors.list()
  for (const { id } of toApprove)
    await maker.api.donors.declinePromise({
      giftId: id,
      reason: 'We build nothing that runs from the mains. Your club may be glad of them.',
    })

  const extra = await volunteer.api.donors.add({ name: 'Wren Hallett', contact: 'wren@hallett.example', consents: CONSENTS })
  await volunteer.api.gifts.add({
    donorId: extra.id,
    kind: 'extras',
    words: 'A leather strap for the carrying case',
    quantity: 1,
    onlyForDesignId: designs.designIds.get('saltmarsh-sr3'),
  })

  goTo(now - 66 * HOUR)
  const diode = parts.find((part) => part.kind === 'diode' && designs.needs.has(part.id))
  if (diode) {
    await volunteer.api.parcels.log({
      key: nextKey(),
      fromNobody: true,
      lines: [{ partId: diode.id, quantity: 12, marking: 'pencil on the bag', dateCode: '' }],
      photoSha: await keepPhotograph(telling, volunteer, await drawParcel(12)),
      note: 'On the step in the morning. The postmark cannot be read.',
    })
  }
}

/** While the stream runs: a promise that waits to be read, and a donor who asked for the link to their own page. */
export async function tellJustNow(telling: Telling, volunteer: Person, { donorIds }: Given): Promise<void> {
  const { now, goTo } = telling
  const reader = visitor(telling)
  goTo(now - 2 * MINUTE)
  const [first] = await reader.buildable.wanted()
  if (first) {
    const promise = { key: nextKey(), partId: first.partId, quantity: 2, name: 'Nell Arkwright', mail: 'nell@arkwright.example' }
    await reader.donors.promise({ ...promise, note: 'From a drawer that was never opened.', consents: CONSENTS })
  }
  const maro = donorIds.get('Maro Lindqvist')
  if (maro) await volunteer.api.yours.mailLink({ donorId: maro })
}
