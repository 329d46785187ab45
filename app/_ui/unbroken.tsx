import { Fragment } from 'react'

/** Longer than this a word may have to break to fit on a phone. */
const LONGEST = 24

/** A sentence in which tags, packages and dates such as WREN-02, DIP-28 and 2027-03-10 stay on one line. */
export function Unbroken({ children: sentence }: { children: string }) {
  return sentence.split(' ').map((word, index) => {
    const stays = word.includes('-') && /\d/.test(word) && word.length <= LONGEST
    return (
      // biome-ignore lint/suspicious/noArrayIndexKey: words have no name but their place
      <Fragment key={index}>
        {index > 0 && ' '}
        {stays ? <span className="unbroken">{word}</span> : word}
      </Fragment>
    )
  })
}
