import { expect, test } from 'vitest'
import { type Asked, askedCookie, readAsked } from '#people/sign-in/asked-cookie.rules'

const asked: Asked = {
  email: 'ada@abbott.example',
  isSent: true,
  demoCode: null,
  refused: { words: 'That code does not work.', fields: { code: 'That code does not work.' } },
}
const cookieValue = (header: string) => header.split(';')[0]?.split('=')[1]

test('how far somebody has come is read as it was written, in a cookie that no script reads', () => {
  const header = askedCookie(asked, 'https://auction.example')
  expect(readAsked(cookieValue(header))).toEqual(asked)
  expect(header).toMatch(/; Path=\/sign-in; HttpOnly; SameSite=Strict; Max-Age=600; Secure$/)
  expect(askedCookie(asked, 'http://localhost:4170')).not.toContain('Secure')
  expect(askedCookie(null, 'https://auction.example')).toContain('=; Path=/sign-in; HttpOnly; SameSite=Strict; Max-Age=0')
})

test('whatever was typed as a mailbox, a browser keeps the cookie', () => {
  const header = askedCookie({ ...asked, isSent: false, email: '\u{1f4e6}'.repeat(5_000) }, 'https://auction.example')
  expect(header.length).toBeLessThan(4_096)
  expect(readAsked(cookieValue(header))).toMatchObject({ isSent: false, refused: asked.refused })
})

test.each([
  undefined,
  '',
  'not base64 of anything',
  ...[
    null,
    7,
    {},
    { ...asked, email: 5 },
    { ...asked, isSent: 'yes' },
    { ...asked, demoCode: 5 },
    { ...asked, refused: { words: 'x' } },
    { ...asked, refused: { words: 'x', fields: { code: { $$typeof: 1 } } } },
  ].map((one) => Buffer.from(JSON.stringify(one)).toString('base64url')),
])('a cookie that the house did not write so says nothing: %s', (value) => expect(readAsked(value)).toBeNull())
