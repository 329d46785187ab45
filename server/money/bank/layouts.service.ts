import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { CostBearer } from '../journal/journal.rules'
import type { ForgetLayoutIn, LayoutView } from './bank.contract'
import { areSigns, layoutChoice, signsOf } from './layout.rules'
import * as store from './layout.store'
import { PAYOUT_COLUMNS } from './payout-file.rules'
import type { BankChoice } from './statement-questions.rules'

/** How a file like this one was read the last time: it has the same headings and is of the same account. */
export const findLayout = ({ db }: Sight, source: Uint8Array | string): store.LayoutRow | null =>
  store.listLayouts(db).find((row) => {
    const signs = row.processor === '' ? signsOf(source, row.choice) : null
    return signs !== null && areSigns(signs, row)
  }) ?? null

/** The same for a card processor's list of sales: by its headings alone. */
export const findPayoutLayout = ({ db }: Sight, source: Uint8Array | string): store.LayoutRow | null =>
  store.listLayouts(db).find((row) => {
    const signs = row.processor === '' ? null : signsOf(source, row.choice, PAYOUT_COLUMNS)
    return signs !== null && areSigns({ ...signs, account: '' }, row)
  }) ?? null

/** How a processor's list was read, who the processor is, and out of whose share its fees came, hold for the next one. */
export function rememberPayoutLayout(turn: Turn, actor: Actor, of: Remembered & { processor: string; bearer: CostBearer }): void {
  const signs = signsOf(of.source, layoutChoice(of.choice) ?? {}, PAYOUT_COLUMNS)
  if (signs === null || signs.headings.every((heading) => heading === '')) return
  const { file, processor, bearer } = of
  store.insertLayout(turn.db, {
    id: turn.dice.id(),
    ...signs,
    account: '',
    file,
    processor,
    bearer,
    at: turn.now,
    byPersonId: actor.personId,
  })
}

/** What a person said of a file holds for the next one of that bank, in place of what was said before. */
export function rememberLayout(turn: Turn, actor: Actor, { source, choice, file }: Remembered): void {
  const said = layoutChoice(choice)
  const signs = said === null ? null : signsOf(source, said)
  if (signs === null) return
  store.insertLayout(turn.db, { id: turn.dice.id(), ...signs, file, at: turn.now, byPersonId: actor.personId })
}

interface Remembered {
  source: Uint8Array | string
  choice: BankChoice
  file: string
}

export const readLayouts = (sight: Sight): LayoutView[] =>
  store.listLayouts(sight.db).map(({ id, headings, account, choice, file, processor, at, byPersonId }) => ({
    id,
    account,
    processor,
    columns: headings.map((heading, index) => ({ heading, column: choice.columns?.[index] ?? '' })),
    dayOrder: choice.dayOrder ?? null,
    isTurned: choice.sign === 'turned',
    file,
    at,
    by: byPersonId === null ? null : (findPerson(sight, byPersonId)?.name ?? null),
  }))

/** The next file of that bank is read without it. */
export function forgetLayout(turn: Turn, { layoutId }: ForgetLayoutIn): void {
  if (!store.deleteLayout(turn.db, layoutId)) throw Refusal.at('layoutId', 'That has been forgotten already. Reload the page.', 'not-found')
  turn.record({ kind: 'bank.layout-forgotten', subject: 'money', body: {} })
}
