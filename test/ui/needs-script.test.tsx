import { readFileSync } from 'node:fs'
import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { CopyButton } from '#app/_ui/copy-button.tsx'

test('a button that only a script answers is not shown without one', () => {
  expect(renderToStaticMarkup(<CopyButton text="TS-1" what="the reference" />)).toMatch(/<button[^>]*class="[^"]*\bneeds-script\b/)
  const sheet = readFileSync(`${import.meta.dirname}/../../app/_ui/look/layout.css`, 'utf8')
  expect(sheet).toMatch(/@media \(scripting: none\) \{\s*\.needs-script \{\s*display: none;/)
})
