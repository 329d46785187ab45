import { createHash } from 'node:crypto'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { today } from '../journal/value-day.rules'
import { againQuestion, comeAgain } from './again.rules'
import { keepStatement } from './balances.service'
import type { BankFileIn, BankPreview } from './bank.contract'
import * as store from './bank.store'
import { layoutChoice } from './layout.rules'
import { findLayout, rememberLayout } from './layouts.service'
import { findLots } from './references.rules'
import { referencesKnown } from './references-known.service'
import { type BankReading, readBankFile } from './statement-file.rules'
import type { BankRow } from './statement-questions.rules'

interface Read extends BankReading {
  source: Uint8Array | string
  /** What was chosen for it, with what is remembered of its bank where nothing was. */
  choice: BankFileIn
  remembered: BankPreview['remembered']
}

function read(sight: Sight, input: BankFileIn): Read {
  const { currency, zone } = getCampaign(sight)
  const { base64, text } = input
  const lots = referencesKnown(sight)
  const source = base64 === undefined ? (text ?? '') : new Uint8Array(Buffer.from(base64, 'base64'))
  const layout = input.afresh || layoutChoice(input) !== null ? null : findLayout(sight, source)
  const choice = { ...input, ...layout?.choice }
  const isOurs = (said: string) => findLots(said, lots).length > 0
  return {
    ...readBankFile(source, { currency, choice, today: today(sight.now, zone), isOurs }),
    source,
    choice,
    remembered: layout && { file: layout.file, at: layout.at, choice: layout.choice },
  }
}

/** The content of a line under which it is known again, and which of several alike it is within its file. */
function known(rows: readonly BankRow[]): (BankRow & { digest: string; twin: number })[] {
  const twins = new Map<string, number>()
  return rows.map((row) => {
    const { on, amountMinor, words, name, reference } = row
    const plain = [words, name, reference].map((text) => text.normalize('NFKC').toLowerCase())
    const digest = createHash('sha256')
      .update(JSON.stringify([on, amountMinor, ...plain]))
      .digest('hex')
    const twin = twins.get(digest) ?? 0
    twins.set(digest, twin + 1)
    return { ...row, digest, twin }
  })
}

/** Which lines are here already, by their content or in another layout, and what of that has to be asked. */
function compared(sight: Sight, rows: readonly BankRow[], choice: BankFileIn) {
  const all = known(rows).map((row) => ({ ...row, isKnown: store.isKept(sight.db, row.digest, row.twin) }))
  const digests = new Set(all.map(({ digest }) => digest))
  const others = store.listAll(sight.db).filter(({ digest }) => !digests.has(digest))
  const found = comeAgain(
    all.filter(({ isKnown }) => !isKnown),
    others.map((line) => ({ ...line, bookedOn: line.bookedOn || line.valueOn })),
  )
  const same = new Set(found.filter(({ isSure }) => isSure || choice.again === 'same').map(({ row }) => row))
  return { all: all.map((row) => (same.has(row) ? { ...row, isKnown: true } : row)), asked: againQuestion(found, choice) }
}

/** A line in another currency is here with its amount, and is none of the books': amounts are not converted. */
const asideFor = (currency: string, now: number, actor: Actor) =>
  ({
    state: 'set aside',
    why: `In ${currency}. Amounts are not converted here: book what reached the account in its own currency.`,
    settledAt: now,
    settledByPersonId: actor.personId,
  }) as const

/** How a file would be read: every column, every doubt, every line, and which of them are here already. Nothing is kept. */
export function previewBankFile(sight: Sight, input: BankFileIn): BankPreview {
  const { rows, questions, source: _source, choice: _choice, ...reading } = read(sight, input)
  const { all, asked } = compared(sight, rows, input)
  const seen = all.map(({ digest: _digest, twin: _twin, ...row }) => row)
  return {
    ...reading,
    questions: [...questions, ...asked],
    rows: seen,
    fresh: seen.filter(({ isKnown }) => !isKnown).length,
    currency: getCampaign(sight).currency,
  }
}

/** Keeps the lines that are new; the same file again keeps none. One slip or one open question keeps all of it out. */
export function importBankFile(turn: Turn, actor: Actor, input: BankFileIn): { fresh: number; known: number } {
  const { rows, flaws, questions: ofFile, balances, source, choice } = read(turn, input)
  const { all, asked } = compared(turn, rows, input)
  const questions = [...ofFile, ...asked]
  const [flaw] = flaws
  if (flaw) throw Refusal.at('file', flaw.line > 0 ? `Line ${flaw.line}, ${flaw.column}: ${flaw.words}` : flaw.words)
  const question = questions.find(({ isAnswered }) => !isAnswered)
  if (question) throw Refusal.at(question.ask, `${question.words} Answer this before importing the file.`)
  const fresh = all.filter(({ isKnown }) => !isKnown)
  let seq = store.highestSeq(turn.db)
  for (const { on, valueOn, currency = '', balance: _balance, isKnown: _isKnown, ...row } of fresh) {
    seq += 1
    store.insertLine(turn.db, {
      ...row,
      valueOn: valueOn ?? on,
      bookedOn: on,
      currency,
      ...(currency !== '' && asideFor(currency, turn.now, actor)),
      id: turn.dice.id(),
      seq,
      file: input.name,
      readAt: turn.now,
      readByPersonId: actor.personId,
    })
  }
  rememberLayout(turn, actor, { source, choice, file: input.name })
  for (const one of balances) keepStatement(turn, actor, one, input.name)
  if (fresh.length > 0)
    turn.record({ kind: 'bank.read', subject: 'money', body: { fresh: fresh.length, known: all.length - fresh.length } })
  return { fresh: fresh.length, known: all.length - fresh.length }
}
