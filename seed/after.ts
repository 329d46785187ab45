import { MINUTE } from '#kernel/instant'
import { drawPhotograph } from './pictures'
import { keepPhotograph, type Person, type Telling } from './stage'

/** How lots are sent and paid, said before the sale; the rest of the story stands on it. */
export async function tellPostage({ treasurer }: { treasurer: Person }): Promise<void> {
  await treasurer.api.sending.saveTerms({ homeCountry: 'GB', volumetricDivisor: '5000', answerHours: '48', addressesKeptDays: '60' })
  const row = (zone: string, countries: string, upTo: string, amount: string) => ({ zone, countries, upTo, amount })
  await treasurer.api.sending.saveBands({
    rows: [
      row('At home', 'GB', '2000', '6.20'),
      row('', '', '5000', '9.50'),
      row('', '', '10000', '16'),
      row('Europe', 'AT BE CH DE DK ES FI FR IE IT NL NO PT SE', '2000', '13'),
      row('', '', '5000', '18'),
      row('', '', '10000', '29'),
      row('Everywhere else', '*', '2000', '21'),
      row('', '', '5000', '34'),
    ],
  })
  await treasurer.api.invoices.saveTerms({
    accountName: 'Long Bench workshop',
    iban: 'GB82 WEST 1234 5698 7654 32',
    bic: '',
    dueDays: '7',
    reminderDays: '2, 4, 7',
    remindersAlone: false,
    offerAfterDays: '10',
    offerOpenDays: '3',
  })
}

/** The first lot is paid, its buyer has said where it goes, and the volunteer is packing it. */
export async function tellPacking(telling: Telling, { volunteer, buyer }: { volunteer: Person; buyer: Person | undefined }): Promise<void> {
  const { now, goTo, say } = telling
  say('the first parcel')
  goTo(now - 2 * MINUTE)
  const address = { name: 'Sunniva Dahl', street: 'Invented Quay 4', place: 'Nordvik', postcode: '0000', country: 'NO', telephone: '' }
  await buyer?.api.sending.sayAddress({ lot: 1, ...address })
  const sha = await keepPhotograph(telling, volunteer, await drawPhotograph('saltmarsh', 1, 'front'))
  await volunteer.api.sending.photograph({ lot: 1, item: 'unit', sha })
  for (const item of ['unit', 'extra-0', 'card', 'disposal']) await volunteer.api.sending.tick({ lot: 1, item, isPacked: true })
}
