import { issueCertificate } from '#bench/certificates/certificates.service'
import type { Stage } from '#test/stage'
import { bringUpUnit, makeBench } from './bench'
import { makeCampaign } from './campaign'

/** A campaign with a run of two receivers: the first built, tested and certified, the second untouched. */
export async function makeTestedUnit(stage: Stage): Promise<{ tag: string; other: string; serial: string }> {
  await makeCampaign(stage)
  const { tags } = await makeBench(stage)
  const [tag = '', other = ''] = tags
  const stoppedAt = await bringUpUnit(stage, tag)
  if (stoppedAt !== null) throw new Error(`the unit stopped at ${stoppedAt}`)
  const maker = await stage.actor('maker')
  const { serial } = await stage.command((turn) => issueCertificate(turn, maker, { tag }))
  return { tag, other, serial }
}
