import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { ForgetLayoutIn, LayoutView } from './bank.contract'
import { areSigns, layoutChoice, signsOf } from './layout.rules'
import * as store from './layout.store'
import type { BankChoice } from './statement-questions.rules'

/** How a file like this one was read the last time: it has the same headings and is of the same account. */
export const findLayout = ({ db }: Sight, source: Uint8Array | string): store.LayoutRow | null =>
  store.listLayouts(db).find((row) => {
    const signs = signsOf(source, row.choice)
    return signs !== null && areSigns(signs, row)
  }) ?? null

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
  store.listLayouts(sight.db).map(({ id, headings, account, choice, file, at, byPersonId }) => ({
    id,
    account,
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
