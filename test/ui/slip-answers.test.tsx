import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { SlipAnswers } from '#app/_ui/forms/slip-answers.tsx'
import { useSlips } from '#app/_ui/forms/use-slips.ts'

const QUESTIONS = { maximum: 'Is £900.00 what you mean?' }

const went: boolean[] = []

function Asking() {
  const slips = useSlips()
  if (went.length > 0) return null
  went.push(slips.mayGo({}))
  went.push(slips.mayGo(QUESTIONS))
  went.push(slips.mayGo(QUESTIONS))
  slips.sayYes()
  went.push(slips.mayGo(QUESTIONS))
  slips.forget()
  went.push(slips.mayGo(QUESTIONS))
  return null
}

test('the question is answered by a button of its own: sending again is no answer, and what has changed is asked about anew', () => {
  renderToStaticMarkup(<Asking />)
  expect(went).toEqual([true, false, false, true, false])
})

test('both answers are dead as they appear, and stand where none of them sends the form', () => {
  const slips = { asked: { words: QUESTIONS.maximum, fields: QUESTIONS }, mayGo: () => false, sayYes: () => {}, forget: () => {} }
  const markup = renderToStaticMarkup(<SlipAnswers slips={slips} yes="Yes, bid up to £900.00" />)
  expect(markup.match(/<button type="button"[^>]*aria-disabled="true"/g)).toHaveLength(2)
  expect(markup).not.toContain('type="submit"')
  // What was pressed stood at the foot; there stands the answer that binds nobody.
  expect(markup.indexOf('No, change it')).toBeGreaterThan(markup.indexOf('Yes, bid up to'))
})
