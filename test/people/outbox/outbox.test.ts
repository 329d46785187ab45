import { afterEach, beforeEach, expect, test } from 'vitest'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

test('the key of a donor’s own page is shown to none of the staff, while the letter waits either', async () => {
  const key = 'K3y-of-a-donor-which-nobody-guesses'
  await stage.command((turn) =>
    turn.post({ to: 'ada@donor.example', subject: 'Your own page', body: `Open it here: https://bench.example/yours#${key}\nKeep it.` }),
  )
  const [letter] = await (await stage.as('maker')).outbox.list()
  expect(letter?.body).toBe('Open it here: https://bench.example/yours#…\nKeep it.')
})
