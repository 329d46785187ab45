import { MINUTE } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import type { Stage } from '#test/stage'
import { makeBidder, makeOpenLot } from './lot'

let keys = 0
/** A key as a form makes one, new at each asking. */
export const formKey = (): string => `a form's key ${++keys}`

/** A lot that sold to Ada for 50.00, with 12.00 postage, at 90 % for the cause: 62.00 to pay. */
export async function makeSoldLot(stage: Stage, { tag = 'TERN-03', sharePercent = '90' } = {}) {
  const { number } = await makeOpenLot(stage, { tag, closesIn: 30 * MINUTE, sharePercent })
  const ada = await makeBidder(stage, 'Ada')
  const bo = await makeBidder(stage, 'Bo')
  await bo.bid(number, '48')
  await ada.bid(number, '60')
  stage.clock.pass(31 * MINUTE)
  await stage.command(closeDueLots)
  const treasurer = await stage.as('treasurer')
  const books = async () => {
    const found = await treasurer.books.all()
    if (!found) throw new Error('there are no books')
    return found
  }
  return { treasurer, number, books, ada, bo }
}
