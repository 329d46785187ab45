import { shownWithUnit } from '#bench/certificates/sentences.rules'
import type { PictureOrder } from '#paper/picture'
import type { RecordView } from './record.service'

const MOST_GAUGES = 4

/** What stands on the picture that goes with a link to a unit: its tag, the verdict, and the first gauges that tell most. */
export function pictureOf(
  { record, standing }: Pick<RecordView, 'record' | 'standing'>,
  campaign: { name: string; causeName: string },
): PictureOrder {
  const onScale = record.results.filter(({ value, lower, upper }) => value !== null && (lower !== null || upper !== null))
  const first = [...onScale].sort((a, b) => weight(a.verdict) - weight(b.verdict)).slice(0, MOST_GAUGES)
  const [chip, tone] =
    record.setAside !== null
      ? (['Set aside', 'bad'] as const)
      : standing
        ? (['Certified', 'ok'] as const)
        : (['Not certified', 'plain'] as const)
  return {
    of: 'picture',
    tag: record.tag,
    title: `${record.design.name} rev ${record.design.revision}`,
    chip,
    tone,
    sentence: record.sentence,
    gauges: onScale
      .filter((one) => first.includes(one))
      .map((one) => ({
        name: one.title,
        shown: shownWithUnit(one),
        verdict: one.verdict,
        value: one.value ?? 0,
        lower: one.lower,
        upper: one.upper,
        nominal: one.nominal,
        doubt: one.doubt,
      })),
    foot: campaign.causeName ? `${campaign.name}, in aid of ${campaign.causeName}` : campaign.name,
    closing: null,
  }
}

/** What failed or passed within doubt is shown before what simply passed: a picture must not flatter. */
const weight = (verdict: string) => (verdict.startsWith('fail') ? 0 : verdict === 'pass within doubt' ? 1 : 2)
