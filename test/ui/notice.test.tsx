import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { Notice } from '#app/_ui/notice.tsx'

test('words, links and times of one sentence run on: they are not each a line of their own', () => {
  const markup = renderToStaticMarkup(
    <Notice title="You did not win this one">
      The nearest like it is <a href="/lots/4">lot 4</a>, which closes at <time>21:30</time>.
    </Notice>,
  )
  expect(markup).toMatch(/<div class="words">The nearest like it is <a[^>]*>lot 4<\/a>, which closes at <time>21:30<\/time>\.<\/div>/)
})
