/** Whether a name is this machine's own: what goes there crosses no network. */
export const isLoopback = (host: string): boolean => /^(localhost|.+\.localhost|127\.\d{1,3}\.\d{1,3}\.\d{1,3}|\[?::1\]?)$/i.test(host)

/**
 * How the mail server is spoken to. Over TLS, with its certificate checked: from the first byte (`smtps:`) or before anything
 * is said that matters (`smtp:`, STARTTLS), and otherwise not at all. This machine's own server, and one that a setting
 * names so in words, may do without.
 */
export function mailServerOf(smtpUrl: string, mayGoInClear: boolean): { url: string; requireTLS: boolean } {
  return { url: smtpUrl, requireTLS: !mayGoInClear && !isLoopback(new URL(smtpUrl).hostname) }
}
