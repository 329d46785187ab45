import { readFileSync } from 'node:fs'
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { CopyButton } from '#app/_ui/copy-button.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'

const look = (name: string) => readFileSync(`${import.meta.dirname}/../../app/_ui/look/${name}`, 'utf8')

describe('without script', () => {
  test('a button that only a script answers is not shown, whatever else it is', () => {
    expect(renderToStaticMarkup(<CopyButton text="TS-1" what="the reference" />)).toMatch(/<button[^>]*class="[^"]*\bneeds-script\b/)
    const sheet = look('buttons.css')
    expect(sheet).toMatch(/@media \(scripting: none\) \{\s*\.needs-script,[^}]*\{\s*display: none;/)
    // Of two rules of one layer and one weight the later one wins, in a sheet as in the order of the sheets.
    expect(sheet.lastIndexOf('.needs-script')).toBeGreaterThan(sheet.lastIndexOf('display: inline-flex'))
    expect(look('layout.css')).not.toContain('.needs-script')
  })
  test('a form says that it needs one, and has no button to send it with; one that the house takes as it is says nothing', () => {
    const form = (action?: string) =>
      renderToStaticMarkup(
        <CommandForm run={async () => null} pending={false} refusal={null} action={action}>
          <SubmitButton>Take a paddle</SubmitButton>
        </CommandForm>,
      )
    expect(form()).toMatch(/<noscript>.*needs a browser that runs scripts.*<\/noscript>/)
    expect(form()).toMatch(/^<form(?![^>]* action=)[^>]* method="post"/)
    expect(form('/sign-in')).not.toContain('<noscript>')
    expect(look('buttons.css')).toContain('form[method="post"]:not([action]) [type="submit"]')
  })
})
