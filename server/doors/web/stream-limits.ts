/** Where a page says that it reads its stream. */
export const LIVE_HERE = '/live/here'

/** Of one origin at a time. Twenty screens in one house are many; a page follows five topics. */
export const MOST_STREAMS = 20
export const MOST_TOPICS = 12

export const TOPICS_WANTED = `Name what to follow, as in /live?topics=lots,meter; at most ${MOST_TOPICS}.`
export const TOO_MANY_STREAMS = `From one address ${MOST_STREAMS} screens are kept up to date at once. Close some of them, and reload this page.`
export const FULL_HOUSE =
  'More screens are open just now than this house can keep up to date. This page shows how things were when it was loaded; it keeps trying.'

/** What a stream is asked to follow, each once. */
export const topicsAsked = (url: URL): string[] => [...new Set((url.searchParams.get('topics') ?? '').split(',').filter(Boolean))]
