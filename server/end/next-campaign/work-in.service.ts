import { Refusal } from '#kernel/refusal'
import { atWorkCookie } from '#people/campaign/at-work'
import { findEarlier } from '#people/campaign/which.service'
import type { Context } from '#runtime/call/base'
import type { WorkIn } from './next-campaign.contract'

/** From now on this browser's work is done in an earlier campaign; with an empty name in the present one again. */
export function workIn(ctx: Context, { slug }: WorkIn): null {
  const sight = ctx.sight()
  if (slug !== '' && !findEarlier(sight, slug)) throw new Refusal('not-found', 'There was no such campaign here.')
  ctx.setCookie(atWorkCookie(slug, sight.publicUrl))
  return null
}
