import { createHash } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { hashInlineScripts } from '#doors/pages/inline-scripts.rules'

const WORD = 'c29tZSB3b3JkIGZvciBvbmU='
const hash = (text: string) => `sha256-${createHash('sha256').update(text).digest('base64')}`

describe('scripts of a page that is given to many', () => {
  test('are allowed by their hash, and the word is gone from the page', () => {
    const made = `<html><script nonce="${WORD}">go(1)</script><script src="/a.js" nonce="${WORD}"></script><script id="x" nonce="${WORD}">go("${WORD}")</script></html>`
    const { html, scripts } = hashInlineScripts(made, WORD)
    expect(html).toBe('<html><script>go(1)</script><script src="/a.js"></script><script id="x">go("")</script></html>')
    expect(scripts).toEqual([hash('go(1)'), hash('go("")')])
  })

  test('that did not carry the word are not allowed, however they came in', () => {
    const made = `<script>steal()</script><script nonce="guessed">steal()</script><p>nonce="${WORD}"</p><script nonce="${WORD}">go(1)</script><SCRIPT>steal()</SCRIPT>`
    expect(hashInlineScripts(made, WORD).scripts).toEqual([hash('go(1)')])
  })

  test('that stand twice are named once; a style is allowed as a style', () => {
    const made = `<style nonce="${WORD}">p{}</style><script nonce="${WORD}">a</script><script nonce="${WORD}">a</script><script nonce="${WORD}">never closed`
    const { scripts, styles } = hashInlineScripts(made, WORD)
    expect(scripts).toEqual([hash('a')])
    expect(styles).toEqual([hash('p{}')])
  })

  test('with other signs than those of ASCII are hashed as the bytes that go out', () => {
    const { html, scripts } = hashInlineScripts(`<script nonce="${WORD}">say("ä ✓ 𝄞")</script>`, WORD)
    expect(scripts).toEqual([`sha256-${createHash('sha256').update(Buffer.from('say("ä ✓ 𝄞")')).digest('base64')}`])
    expect(Buffer.from(html).toString()).toContain('say("ä ✓ 𝄞")')
  })
})
