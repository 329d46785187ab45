/** One thing on the way from an empty house to the first lot that is open. */
export interface FirstStep {
  key: string
  title: string
  /** `open` is the one to do next. */
  state: 'done' | 'open' | 'not-yet'
  words: string
  href: string
  link: string
}
