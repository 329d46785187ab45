import type { IncomingMessage } from 'node:http'
import { deviceInWords } from '#people/sign-in/device-words.rules'
import type { Context } from '#runtime/call/base'
import { browserCookieName, makeBrowserCookie, readCookie } from '#runtime/call/browser-cookie'
import { looksAt } from './looking-at'
import type { OpenHouse } from './open-house'

export interface Asking {
  cookies: string
  /** What the browser says that it is. */
  userAgent?: string
  address: string
  setCookie(header: string): void
}

/** Who asks, from the cookies of a request; the same for the HTTP door and for pages rendered on the server. */
export async function contextFor(house: OpenHouse, asking: Asking): Promise<Context> {
  const { cookies, address, setCookie } = asking
  const known = house.signIn.sessionOf(cookies)
  let browser = readCookie(cookies, browserCookieName(house.publicUrl))
  return {
    actor: known?.actor ?? null,
    session: known?.session ?? null,
    device: () => deviceInWords(asking.userAgent),
    isDemo: house.isDemo,
    log: house.log,
    address,
    floods: house.floods,
    unnamedProxy: house.unnamedProxy,
    openFiles: house.openFiles,
    browser() {
      if (!browser) {
        const made = makeBrowserCookie(house.publicUrl)
        browser = made.value
        setCookie(made.header)
      }
      return browser
    },
    setCookie,
    cookies,
    signIn: house.signIn,
    builder: house.builder,
    listReader: house.listReader,
    sheetReader: house.sheetReader,
    planner: house.planner,
    simulator: house.simulator,
    packer: house.packer,
    dataFolder: house.dataFolder,
    rehearsal: house.rehearsal,
    vitals: house.vitals,
    sight: house.sight,
    command: house.queue.run,
    lookAt: looksAt(house.sight, house.queue.run, () => cookies),
  }
}

/** The visitor's address, for limits: behind a proxy of one's own, the last that it added. */
export function addressOf(request: IncomingMessage, trustedProxy: 'none' | 'x-forwarded-for'): string {
  const forwarded = request.headers['x-forwarded-for']
  if (trustedProxy === 'x-forwarded-for' && forwarded) {
    const hops = String(forwarded).split(',')
    // An empty last hop names nobody, and whoever has no address is counted by no limit.
    const last = hops[hops.length - 1]?.trim()
    if (last) return last
  }
  return request.socket.remoteAddress ?? ''
}

const FORWARDING = ['x-forwarded-for', 'forwarded', 'x-real-ip']

/**
 * Whether a proxy close by passed this on. Anybody can write such a header; from this machine or its own network, where a
 * proxy stands, it is taken for what it says.
 */
export const isPassedOn = ({ headers, socket }: IncomingMessage): boolean =>
  FORWARDING.some((name) => headers[name] !== undefined) && isCloseBy(socket.remoteAddress ?? '')

/** The loopback and the networks that are private by RFC 1918 and RFC 4193. */
const isCloseBy = (address: string): boolean =>
  /^(::1|(::ffff:)?(127|10|192\.168|172\.(1[6-9]|2\d|3[01]))\.[\d.]+|f[cd][\da-f]{2}:.*)$/i.test(address)
