import { describe, expect, test } from 'vitest'
import { wordsIn, wordsRead } from './words-read.mjs'

/** Turns that no native of a workshop, an auction room or a treasurer's desk would use, and what they would say. */
const ODD: readonly [found: RegExp, instead: string][] = [
  [/\bBid so\b|\bBook it so\b|\bKeep it so\b/, 'Bid, Book it, Save'],
  [/\bone more part\b/, 'another part'],
  [/\bSay yourself\b/, 'Choose'],
  [/speaks for anything/i, 'no suggestion'],
  [/\bMade one with\b|\bMake them one\b/, 'merged'],
  [/\bwithout a home\b|\bha(?:s|ve) no home\b|\bhas its home\b/i, 'unallocated'],
  [/\bGiven back\b/, 'Refunded'],
  [/\bdecided so\b/, 'this was decided by'],
  [/\banswer this e?mail\b/i, 'reply to this email'],
  [/\blets one step\b|\bwhere one is\b|\bone has said\b/, 'you'],
  [/\bstart(?:s|ed)? (?:the house )?anew\b|\bissue it anew\b|\basked anew\b|\bworded anew\b/i, 'restart, again'],
  [/\bWrite it down\b|\bWritten down\b/, 'Add, Added'],
  [/\bKeeping it…/, 'Saving…'],
  [/\bfrom nobody known\b/, 'from an unknown sender'],
  [/\bopens nothing any more\b/, 'no longer works'],
  [/\bThat is no (?:letter|passkey|session|tax)\b|\bis nothing of this house\b/, 'That is not …'],
  [/\bby mail\b|\bmail address/, 'email'],
  [/\bmuch as anyones\b|\bThat were\b/, 'That was'],
  [/\bnought\b/, 'zero'],
]

/** Told to the keeper of a house, or kept by many readers to the letter: these keep their words. */
const OF_THEIR_OWN = /^(?:public\/|server\/runtime\/settings\/log\.ts|server\/sale\/history\/|server\/bench\/certificates\/)/

const read = wordsRead()
const at = ({ file, line, text }: (typeof read)[number]) => `${file}:${line} ${text.slice(0, 120)}`

test('the list holds what people read: pages, refusals, letters, papers and the README', () => {
  const files = new Set(read.map(({ file }) => file))
  for (const file of [
    'app/(public)/sign-in/sign-in-form.tsx',
    'server/people/people/people.contract.ts',
    'server/sale/letters/letter-words.rules.ts',
    'README.md',
  ])
    expect(files, file).toContain(file)
  expect(read.length).toBeGreaterThan(5000)
})

test.each(ODD)('nobody would say %s', (found) => {
  expect(read.filter(({ file, text }) => !OF_THEIR_OWN.test(file) && found.test(text)).map(at)).toEqual([])
})

test('a letter goes on with a capital after its salutation', () => {
  const letters = read.filter(({ text }) => text.startsWith('Dear …,'))
  expect(letters.length).toBeGreaterThan(7)
  expect(letters.filter(({ text }) => !/^Dear …, (?:\p{Lu}|…)/u.test(text)).map(at)).toEqual([])
})

describe('the list', () => {
  const textsIn = (source: string) => wordsIn('page.tsx', source).map(({ line, text }) => `${line} ${text}`)
  test('has what stands in an element as one text, and words in attributes and branches', () => {
    expect(
      textsIn(`const a = (
  <p className="small quiet" title="Of the day">
    Due on <b>{day}</b>: {isLate ? 'late' : 'in time'}.
  </p>
)`),
    ).toEqual(['2 Due on …: ….', '2 Of the day', '3 late', '3 in time'])
  })
  test('has refusals and letters, with what is filled in as an ellipsis', () => {
    // biome-ignore lint/suspicious/noTemplateCurlyInString: source that is read.
    expect(textsIn('throw new Refusal("conflict", `Lot ${n} has ended.`)')).toEqual(['1 Lot … has ended.'])
  })
  test('has no keys, paths, SQL and lines of the log', () => {
    expect(
      textsIn(`import { a } from './some place'
log.info({ kind: 'a thing' }, 'the house is open')
db.prepare('SELECT a FROM b WHERE c = 1')
const x = { 'content-type': 'text/plain', kind: 'not-found' }
invariant(sum === 0, 'entries balance')`),
    ).toEqual([])
  })
})
