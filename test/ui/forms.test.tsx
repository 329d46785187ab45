import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { readForm } from '#app/_ui/forms/form-values.ts'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'

const refusal = { words: 'Two things.', fields: { donor: 'Say who sent it.', most: 'Your bid must be at least £52.00.' } }
const form = (refused: typeof refusal | null, pending = false) =>
  renderToStaticMarkup(
    <CommandForm run={async () => null} pending={pending} refusal={refused}>
      <TextField name="donor" label="From whom?" hint="As on the parcel." />
      <MoneyField name="most" label="The most you would pay" currency="GBP" optional />
      <RadioGroup name="kind" label="What is it?" choices={[{ value: 'parts', label: 'Parts' }]} />
      <CheckField name="rules" label="I have read the rules." />
      <SubmitButton>Log it</SubmitButton>
    </CommandForm>,
  )

describe('a field', () => {
  test('has its label, and the hint describes it', () => {
    const markup = form(null)
    const id = /<label for="([^"]+)"[^>]*>From whom\?/.exec(markup)?.[1]
    expect(id).toBeTruthy()
    expect(markup).toMatch(new RegExp(`<input[^>]*aria-describedby="${id}-hint"`))
    expect(markup).toContain(`id="${id}-hint"`)
    expect(markup).not.toContain('aria-invalid')
  })
  test('says when it may be left empty, in words', () =>
    expect(form(null)).toContain('The most you would pay<span class="optional"> (optional)</span>'))
  test('never explains itself inside the box', () => expect(form(refusal)).not.toContain('placeholder'))
})

describe('a refusal', () => {
  test('stands in the summary and beside its field in the same words, and the summary leads there', () => {
    const markup = form(refusal)
    expect(markup.split('Your bid must be at least £52.00.')).toHaveLength(3)
    const href = /<a href="#([^"]+)">Your bid must be/.exec(markup)?.[1]
    expect(markup).toMatch(new RegExp(`<input[^>]* id="${href}"|<input[^>]*id="${href}"`))
    expect(markup).toMatch(new RegExp(`aria-describedby="${href}-error"`))
    expect(markup.match(/aria-invalid="true"/g)).toHaveLength(2)
  })
  test('stands once where its field is in sight of the button, and at the head for any other', () => {
    const short = (fields: Record<string, string>) =>
      renderToStaticMarkup(
        <CommandForm run={async () => null} pending={false} refusal={{ words: 'Not so.', fields }} inSight={['most']}>
          <MoneyField name="most" label="The most you would pay" currency="GBP" />
        </CommandForm>,
      )
    const once = short({ most: 'Your bid must be at least £52.00.' })
    expect(once.split('Your bid must be at least £52.00.')).toHaveLength(2)
    expect(once).toContain('aria-invalid="true"')
    expect(once).not.toContain('role="alert"')
    expect(short({ lot: 'There is no such lot.' })).toMatch(/role="alert".*There is no such lot\./)
    expect(short({})).toMatch(/role="alert".*Not so\./)
  })
  test('without a field to blame is said as it is', () => {
    const markup = renderToStaticMarkup(
      <CommandForm run={async () => null} pending={false} refusal={{ words: 'All clocks are held.', fields: {} }}>
        <SubmitButton>Bid</SubmitButton>
      </CommandForm>,
    )
    expect(markup).toContain('All clocks are held.')
  })
})

test('the button is not disabled while an answer is awaited', () => expect(form(null, true)).not.toContain('disabled'))

describe('what was filled in', () => {
  const data = (entries: [string, string][]) => {
    const made = new FormData()
    for (const [name, value] of entries) made.append(name, value)
    return readForm(made)
  }
  test('a whole number is read as it is, with full-width digits and a true minus sign, and anything else is no number', () => {
    const read = (typed: string) => data([['n', typed]]).whole('n')
    expect(read(' 6 ')).toBe(6)
    expect(read('１２')).toBe(12)
    expect(read('−1')).toBe(-1)
    expect(read('1e3')).toBeNaN()
    expect(read('2.5')).toBeNaN()
    expect(read('')).toBeNaN()
  })
  test('what is missing is empty, what is blank may be left out, what repeats is a list', () => {
    const values = data([
      ['note', '  '],
      ['use', 'page'],
      ['use', 'card'],
      ['rules', 'yes'],
    ])
    expect(values.text('nothing')).toBe('')
    expect(values.maybe('note')).toBeUndefined()
    expect(values.list('use')).toEqual(['page', 'card'])
    expect(values.ticked('rules')).toBe(true)
    expect(values.ticked('other')).toBe(false)
  })
})
