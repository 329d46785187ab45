/** One thing to be done before a campaign is closed out. Its state follows from what there is. */
export interface CheckItem {
  key: string
  title: string
  state: 'done' | 'open' | 'not-yet'
  words: string
  href: string
  link: string
}
