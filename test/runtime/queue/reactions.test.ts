import { afterEach, expect, test } from 'vitest'
import { Refusal } from '#kernel/refusal'
import type { Reaction } from '#runtime/queue/reactions'
import type { Turn } from '#runtime/queue/turn'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const note = (kind: string) => (turn: Turn) => turn.record({ kind, subject: kind, body: {} })
const follow = (to: string, act: (turn: Turn) => void): Reaction => ({ to: [to], act })
const kinds = () => stage.facts().map(({ kind }) => kind)

test('what follows a fact happens in the same turn, in the order of the table, before what the command does next', async () => {
  stage = openStage({ also: [follow('cut', note('first')), follow('cut', note('second')), follow('other', note('never'))] })
  await stage.command((turn) => {
    note('cut')(turn)
    note('last')(turn)
  })
  expect(kinds()).toEqual(['cut', 'first', 'second', 'last'])
  expect(new Set(stage.facts().map(({ at }) => at)).size).toBe(1)
})

test('it is given the fact as it was recorded, and what it records is followed in turn', async () => {
  const seen: unknown[] = []
  const second = { to: ['second', 'third'], act: (_turn: Turn, { subject }: { subject: string }) => void seen.push(subject) }
  stage = openStage({ also: [follow('cut', note('second')), second] })
  await stage.command(note('cut'))
  await stage.command(note('third'))
  expect(seen).toEqual(['second', 'third'])
})

test('when it refuses, all that its command did is undone, and nothing of the commands beside it', async () => {
  const refuse = () => {
    throw new Refusal('conflict', 'The till is shut.')
  }
  stage = openStage({ also: [follow('cut', note('written on the way')), follow('cut', refuse)] })
  const answers = await Promise.allSettled([
    stage.command(note('before')),
    stage.command((turn) => {
      turn.post({ to: 'ada@bidder.example', subject: 'Cut', body: 'It was cut.' })
      note('cut')(turn)
    }),
    stage.command(note('after')),
  ])
  expect(answers.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled'])
  expect(kinds()).toEqual(['before', 'after'])
  expect(stage.letters()).toEqual([])
})
