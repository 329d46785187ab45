import type { IncomingMessage, ServerResponse } from 'node:http'
import { Refusal } from '#kernel/refusal'
import { isStaff, type Role } from '#kernel/role'
import { inCampaign } from '#people/campaign/which.service'
import { type Address, type Answer, matchAddress } from '#runtime/call/address'
import type { Actor, Sight } from '#runtime/queue/turn'
import { hasIt, packingFor } from '../pages/packing.rules'
import { ADDRESSES } from './addresses'
import { letOthersRead } from './headers'
import { openKeptAnswers } from './kept-answers'
import { earlierCampaign } from './looking-at'
import type { OpenHouse } from './open-house'
import { type ReadyAnswer, readyAnswer } from './ready-answer'
import { refuse } from './refuse'

/** Data of an earlier campaign stands behind its name: `/campaigns/spring-2027/lots.json`. */
const OF_EARLIER = /^\/campaigns\/(?<campaign>[a-z0-9-]{1,60})(?<rest>\/.+)$/

const whyNot = (audience: NonNullable<Address['audience']>, role: Role): string | null => {
  if (audience === 'signed in' || (audience === 'staff' && isStaff(role))) return null
  if (audience === 'staff') return 'That is for the staff.'
  return audience.includes(role) ? null : `That is for the ${audience.join(' and the ')}.`
}

/** What stands at the addresses that give a file or data. The answer says whether there is such an address. */
export function openData(house: OpenHouse) {
  const keptAnswers = openKeptAnswers({ changes: house.changes, now: house.clock.now })

  const ready = async (answer: Answer | null): Promise<ReadyAnswer | null> => {
    if (!answer) return null
    const { type, fileName, keepSeconds = 1, body: given } = answer
    const bytes = typeof given === 'object' && 'print' in given ? await house.press.print(given.print) : given
    const body = typeof bytes === 'string' ? Buffer.from(bytes) : Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    return readyAnswer({ type, keepSeconds, body, fileName })
  }

  /** The house as it is looked at by what an address names, or where the staff are at work. A number in an address is a lot's. */
  const sightFor = ({ number, tag, campaign }: Record<string, string>, cookies: string): Sight => {
    const sight = house.sight()
    const named = { campaign, tag, ...(number !== undefined && { lot: Number(number) }) }
    const earlier = earlierCampaign(sight, named, cookies)
    return earlier === null ? sight : inCampaign(sight, earlier)
  }

  /** What everybody may see is made once for all who ask; of the words behind the question mark only those that the address reads count. */
  const publicAnswer = (address: Address, params: Record<string, string>, url: URL) => {
    const asked = new URLSearchParams(
      (address.reads ?? []).flatMap((name) =>
        url.searchParams
          .getAll(name)
          .slice(0, 1)
          .map((value) => [name, value]),
      ),
    )
    // By what is asked for, and not by how that is spelt: the same thing behind other percent signs is no other answer.
    return keptAnswers.get(`${address.path} ${JSON.stringify(params)}?${asked}`, async () =>
      ready(address.answer(sightFor(params, ''), params, asked)),
    )
  }

  return async (request: IncomingMessage, response: ServerResponse, url: URL): Promise<boolean> => {
    const asked = OF_EARLIER.exec(url.pathname)?.groups ?? { rest: url.pathname }
    const match = matchAddress(ADDRESSES, asked.rest ?? '')
    // What is for some only is asked for where it stands; behind the name of a campaign is what everybody may see of it.
    if (!match || (asked.campaign !== undefined && match.address.audience)) return false
    const { address } = match
    const params = asked.campaign === undefined ? match.params : { ...match.params, campaign: asked.campaign }
    let actor: Actor | null = null
    if (address.audience) {
      actor = house.signIn.whoIs(request.headers.cookie ?? '')
      if (!actor) throw new Refusal('not-signed-in', 'Sign in first; we email you a code.')
      const turnedAway = whyNot(address.audience, actor.role)
      if (turnedAway !== null) throw new Refusal('not-yours-to-do', turnedAway)
    }
    const answer = address.audience
      ? await ready(address.answer(sightFor(params, request.headers.cookie ?? ''), params, url.searchParams, actor))
      : await publicAnswer(address, params, url)
    if (!answer) return refuse(response, 404, 'There is nothing like that here.')
    const { type, fileName, keepSeconds } = answer
    // A name comes from an address: only signs that a header carries go into it.
    const named = fileName && { 'content-disposition': `inline; filename="${fileName.replaceAll(/[^\w.-]+/g, '-')}"` }
    if (address.audience) {
      const body = await answer.body('identity')
      response.writeHead(200, { 'content-type': type, 'cache-control': 'private, no-store', 'content-length': body.byteLength, ...named })
      response.end(request.method === 'HEAD' ? undefined : body)
      return true
    }
    letOthersRead(response)
    const packing = answer.packing(packingFor(request.headers['accept-encoding']))
    const etag = answer.etag(packing)
    const kept = { etag, 'cache-control': `public, max-age=${keepSeconds}`, vary: 'Accept-Encoding' }
    if (hasIt(request.headers['if-none-match'], etag)) {
      response.writeHead(304, kept).end()
      return true
    }
    const body = await answer.body(packing)
    const packed = packing !== 'identity' && { 'content-encoding': packing }
    response.writeHead(200, { ...kept, 'content-type': type, ...packed, 'content-length': body.byteLength, ...named })
    response.end(request.method === 'HEAD' ? undefined : body)
    return true
  }
}
