/** Whether a name is this machine's own: what goes there crosses no network. */
export const isLoopback = (host: string): boolean => /^(localhost|.+\.localhost|127\.\d{1,3}\.\d{1,3}\.\d{1,3}|\[?::1\]?)$/i.test(host)

/** The address alone of a sender such as "Long Bench Day <bench@longbench.example>". */
export const addressIn = (sender: string): string =>
  sender
    .slice(sender.indexOf('<') + 1)
    .replace(/>$/, '')
    .trim()

/** A server that says nothing for so long is left. */
const LONGEST_SILENCE_MS = 10_000

/**
 * How the mail server is spoken to. Over TLS, with its certificate checked: from the first byte (`smtps:`) or before anything
 * is said that matters (`smtp:`, STARTTLS), and otherwise not at all. This machine's own server, and one that a setting
 * names so in words, may do without.
 */
export function mailServerOf(smtpUrl: string, mayGoInClear: boolean) {
  return {
    url: smtpUrl,
    requireTLS: !mayGoInClear && !isLoopback(new URL(smtpUrl).hostname),
    // Whoever takes a letter and then says nothing keeps no other letter waiting for longer.
    connectionTimeout: LONGEST_SILENCE_MS,
    greetingTimeout: LONGEST_SILENCE_MS,
    socketTimeout: LONGEST_SILENCE_MS,
  }
}
