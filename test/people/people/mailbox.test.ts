import { expect, test } from 'vitest'
import { mailboxOf } from '#people/people/mailbox.rules'

test.each([
  ['ada@bench.example', 'ada@bench.example'],
  ['Ada@Bench.example', 'ada@bench.example'],
  ['ada+second@bench.example', 'ada@bench.example'],
  ['ada+a+b@bench.example', 'ada@bench.example'],
  ['ada.b@bench.example', 'ada.b@bench.example'],
])('%s is the mailbox %s', (email, mailbox) => {
  expect(mailboxOf(email)).toBe(mailbox)
})

test('two people at one house have two mailboxes', () => {
  expect(mailboxOf('ada@bench.example')).not.toBe(mailboxOf('ada@other.example'))
  expect(mailboxOf('ada@bench.example')).not.toBe(mailboxOf('bo@bench.example'))
})
