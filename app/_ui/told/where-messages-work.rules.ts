export interface Place {
  /** Whether the browser holds the page to have come safely: over HTTPS, or from this very machine. */
  isSecure: boolean
  /** Whether the browser has workers, push messages and notifications for pages. */
  knowsMessages: boolean
  origin: string
  /** Where the house is reached, by its own setting: what a message leads to is there. */
  publicUrl: string
  /** What the reader told the browser before. */
  permission: 'default' | 'denied' | 'granted'
}

/** Why this device cannot be told by messages, and what will do instead; null where it can. */
export function whyNoMessages({ isSecure, knowsMessages, origin, publicUrl, permission }: Place): string | null {
  const house = new URL(publicUrl).origin
  if (!isSecure) return `Messages need HTTPS, and this page was opened at ${origin}. You are told by email.`
  if (origin !== house) return `Messages come from ${house}, and this page was opened at ${origin}. Open it there, or be told by email.`
  if (!knowsMessages)
    return 'This browser cannot show messages from pages. On some phones it can once the page has been added to the home screen. You are told by email.'
  return permission === 'denied'
    ? 'Your browser was told not to show messages from this page. Allow them in its settings for this page, and come back. You are told by email meanwhile.'
    : null
}
