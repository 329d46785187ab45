/**
 * The mailbox behind an address, as far as an address tells: what stands behind a plus is a label of whoever owns it (RFC
 * 5233), and capitals make no difference to any mail service that people use. Two addresses of one mailbox are one person.
 */
export function mailboxOf(email: string): string {
  const at = email.lastIndexOf('@')
  const [local = '', domain = ''] = [email.slice(0, at), email.slice(at + 1)]
  return `${local.split('+')[0]}@${domain}`.toLowerCase()
}
