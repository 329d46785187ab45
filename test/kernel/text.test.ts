import { expect, test } from 'vitest'
import { isMailAddress, mailAddress } from '#kernel/mail-address'
import { formKey, idIn, idOrNone, sha256In, text } from '#kernel/text'

const said = (shape: ReturnType<typeof text>, typed: unknown) => {
  const read = shape.safeParse(typed)
  return read.success ? read.data : read.error.issues.map(({ message }) => message).join(' | ')
}

test('a text comes without blanks at its ends and in its composed form', () => {
  expect(said(text(20), '  Café \n')).toBe('Café')
  expect(said(text(20), 'Cafe\u0301')).toBe('Caf\u00e9')
  expect(said(text(20), 'two\nlines\tand a tab')).toBe('two\nlines\tand a tab')
})

test('a text of just the length is taken, blanks around it or not; one character more is refused', () => {
  expect(said(text(5), 'abcde')).toBe('abcde')
  expect(said(text(5), '  abcde  ')).toBe('abcde')
  expect(said(text(5), 'e\u0301'.repeat(5))).toBe('\u00e9'.repeat(5))
  expect(said(text(5, 'Keep it short.'), 'abcdef')).toBe('Keep it short.')
})

test('a text that grows when it is composed is counted as it comes out', () => {
  // U+FB2C has no composed form of its own: NFC makes three characters of it.
  expect(said(text(5, 'Keep it short.'), '\ufb2c'.repeat(5))).toBe('Keep it short.')
})

test('half of a character is refused in words, a whole one is taken', () => {
  for (const half of ['\ud83d', 'a\ud83d', '\udd27b', '\udd27\ud83d']) expect(said(text(20), half)).toContain('Half a character')
  expect(said(text(20), '🔧 wrench')).toBe('🔧 wrench')
})

test('each mark that reverses the direction of writing is refused in words', () => {
  const marks = [...'\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069']
  expect(marks).toHaveLength(12)
  for (const mark of marks)
    expect(said(text(20), `ada${mark}gnp.exe`), mark.codePointAt(0)?.toString(16)).toContain('reverses the direction')
  expect(said(text(20), 'עדה כהן')).toBe('עדה כהן')
})

test('a control character is refused, a tab and a line break are not', () => {
  for (const hidden of ['\0', '\u001b', '\u0085', '\u007f', '\ufffe', '\uffff'])
    expect(said(text(20), `a${hidden}b`)).toContain('control character')
})

test('nothing is asked of a text that is too long, and one sentence is said of it', () => {
  let asked = 0
  const shape = text(10, 'Too much.').refine(() => {
    asked++
    return false
  }, 'never said')
  expect(said(shape, `\ud83d${'x'.repeat(100_000)}`)).toBe('Too much.')
  expect(asked).toBe(0)
})

test('a form’s key, a row’s name and a hash say what to do when they are none', () => {
  expect(said(formKey(), 'short')).toBe('Reload the page and try again.')
  expect(said(idIn(), 'x'.repeat(500))).toContain('Reload the page')
  expect(said(sha256In('Take the photograph again.'), 'abc')).toBe('Take the photograph again.')
  expect(said(sha256In('Take the photograph again.'), 'a'.repeat(64))).toBe('a'.repeat(64))
})

test.each(['ada@workshop.example', "o'brien+lots@a-b.workshop.example", 'a@b.example', `${'a'.repeat(64)}@b.example`])(
  '%s is an email address',
  (address) => {
    expect(isMailAddress(address)).toBe(true)
  },
)

test.each([
  'ada',
  '@b.example',
  'a@b',
  'a@b.c.',
  'a@.example',
  'a@b..example',
  'a@b.example.',
  'a b@c.example',
  'a@@b.example',
  'a@b@c.example',
  '.a@b.example',
  'a..b@c.example',
  'a@b.example\n',
  'a@-b.example',
  '<a@b.example>',
  `${'a'.repeat(65)}@b.example`,
  `a@${'b'.repeat(250)}.example`,
])('%j is no email address', (address) => {
  expect(isMailAddress(address)).toBe(false)
  expect(said(mailAddress('Write an email address.'), `${address}`.trim() === address ? address : `x${address}x`)).not.toContain('@')
})

test('nothing chosen is nothing, however a form says so', () => {
  for (const none of [undefined, '', '  ']) expect(idOrNone().parse(none)).toBeUndefined()
  expect(idOrNone().parse('a-row')).toBe('a-row')
})
