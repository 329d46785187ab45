import { headers } from 'next/headers'
import { keepFirstTaps } from './keep-first-taps'

const SCRIPT = `(${keepFirstTaps.toString()})(document)`

/** Stands before everything else of a page, so that nothing can be tapped before it is there. */
export async function FirstTaps() {
  const policy = (await headers()).get('content-security-policy') ?? ''
  const word = /'nonce-([^']+)'/.exec(policy)?.[1]
  // biome-ignore lint/security/noDangerouslySetInnerHtml: a program of our own, which holds nothing of anybody's.
  return <script nonce={word} dangerouslySetInnerHTML={{ __html: SCRIPT }} />
}
