import { createHash } from 'node:crypto'

export interface HashedPage {
  /** The page without the word that it was made with. */
  html: string
  /** `sha256-…` of each script and style that stands in it and carried the word, as a policy names them. */
  scripts: string[]
  styles: string[]
}

/**
 * A page that was made under a word for one answer, so that it can be given to many: what carried the word is allowed by its hash
 * from now on. What did not carry it, however it came into the page, is allowed no more than before.
 */
export function hashInlineScripts(made: string, word: string): HashedPage {
  const without = (text: string) => text.replaceAll(` nonce="${word}"`, '').replaceAll(word, '')
  const hashesOf = (element: 'script' | 'style') => [
    ...new Set(
      made.split(`<${element}`).flatMap((rest, index) => {
        const end = rest.indexOf('>')
        const attributes = rest.slice(0, end)
        const close = rest.indexOf(`</${element}>`)
        if (index === 0 || close < 0 || !attributes.includes(` nonce="${word}"`) || attributes.includes(' src="')) return []
        return [
          `sha256-${createHash('sha256')
            .update(without(rest.slice(end + 1, close)))
            .digest('base64')}`,
        ]
      }),
    ),
  ]
  return { html: without(made), scripts: hashesOf('script'), styles: hashesOf('style') }
}
