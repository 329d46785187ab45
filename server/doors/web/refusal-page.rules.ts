import { createHash } from 'node:crypto'

const STYLE =
  ':root{color-scheme:light dark;font:1.125rem/1.5 system-ui,sans-serif}body{max-width:36rem;margin:12vh auto;padding:0 1rem}a{display:inline-block;padding:.75rem 0}'

/** The page loads nothing and runs nothing; its own few lines of style are named by their hash. */
export const REFUSAL_PAGE_POLICY = [
  "default-src 'none'",
  `style-src 'sha256-${createHash('sha256').update(STYLE).digest('base64')}'`,
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

/** What a person reads where a program reads JSON: the words, and a link to the page they were on, or else to the lots. */
export const refusalPage = (words: string, back: string | null): string => `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>That was not taken</title>
<style>${STYLE}</style>
<h1>That was not taken</h1>
<p>${escaped(words)}</p>
<p>${back === null ? '<a href="/">See the lots</a>' : `<a href="${escaped(back)}">Back to the page you were on</a>`}</p>
</html>
`

const MARKS: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' }
const escaped = (text: string): string => text.replaceAll(/[&<>"']/g, (mark) => MARKS[mark] ?? mark)
