import type { z } from 'zod'
import { pictureOf } from '#floor/record/picture.rules'
import { recordOf } from '#floor/record/record.service'
import { readCredits } from '#gifts/credits/credits.service'
import { instantsOf } from '#kernel/civil'
import { SECOND } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { PictureOrder } from '#paper/picture'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { shortHead } from '#sale/history/short-head.rules'
import type { LotCard } from '#sale/lots/lots.contract'
import { listPublicLots } from '#sale/lots/lots.service'
import { soldWords } from '#sale/price/result.rules'
import { civilParts } from '#sale/programme/civil-time.rules'
import { publicProgramme } from '#sale/programme/programme.service'
import type { describeIn } from './telling.contract'
import { closingLine, describeVideo } from './telling.rules'

/** A lot's picture for links: its tag with the gauges, and when it closes. */
export function lotPicture(sight: Sight, lot: LotCard): PictureOrder {
  const campaign = getCampaign(sight)
  const picture = pictureOf(recordOf(sight, { tag: lot.unit }), campaign)
  return {
    ...picture,
    tag: `LOT ${lot.number} · ${lot.unit}`,
    title: lot.title,
    gauges: picture.gauges.slice(0, 3),
    closing: closingLine(lot, campaign.zone),
  }
}

/** The text under the recording or the stream, with chapters counted from when the recording began. */
export function readDescription(sight: Sight, { begins, day }: z.output<typeof describeIn>): { text: string; begins: string } {
  const campaign = getCampaign(sight)
  const programme = publicProgramme(sight, day)
  const { on, at } = civilParts(programme.opensAt, campaign.zone)
  const closings = new Set(programme.items.map(({ lot }) => lot))
  const otherClosings = new Set(programme.others.flatMap(({ items }) => items.map(({ lot }) => lot)))
  const clock = begins === '' ? `${at}:00` : begins
  const [minute] = instantsOf(`${on}T${clock.slice(0, 5)}`, campaign.zone)
  if (minute === undefined)
    throw Refusal.at('begins', `${clock} does not come on that day. Write when the recording begins, such as ${at}:00.`)
  const credits = readCredits(sight)
  const text = describeVideo({
    programme,
    cause: { name: campaign.causeName, shareBp: campaign.causeShareBp },
    lots: listPublicLots(sight)
      .filter(({ number }) => closings.has(number) || !otherClosings.has(number))
      .map((lot) => ({
        number: lot.number,
        title: lot.title,
        unit: lot.unit,
        head: lot.headHash === null ? null : shortHead(lot.headHash),
        result:
          lot.state === 'sold' && lot.hammerMinor !== null
            ? `${soldWords(lot, (minor) => showMoney(minor, lot.currency))}.`
            : lot.endedAt === null
              ? ''
              : 'Not sold.',
      })),
    credits: credits?.all.line ? `We thank ${credits.all.line}.` : '',
    publicUrl: sight.publicUrl,
    recordedFrom: minute + Number(clock.slice(6)) * SECOND,
  })
  return { text, begins: clock }
}
