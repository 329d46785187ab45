import Link from 'next/link'
import { Notice } from '#app/_ui/notice.tsx'
import { sharedWords } from '#bench/faults/shared.rules'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { SlipForm } from './fault/slip-form'

/** A fault that is open, with the way to where to look next; and what failed on other units of the run as well. */
export function FaultNotice({ view, works, again }: { view: BringupView; works: boolean; again(): void }) {
  const { tag, fault, faultPasses, mayBeSlip, shared } = view
  const inCommon = shared.length > 0 && (
    <p>
      {shared.map(sharedWords).join('. ')}. <Link href={`/bench/runs/${tag.replace(/-\d+$/, '')}`}>Look for what they have in common</Link>
    </p>
  )
  if (fault !== null)
    return (
      <Notice tone={faultPasses ? 'doubt' : 'bad'} title={`A fault is open: ${fault}`}>
        {mayBeSlip && works && <SlipForm tag={tag} onDone={again} />}
        <p>
          <Link href={`/bench/units/${tag}/fault`}>Where to look next</Link>
        </p>
        {inCommon}
      </Notice>
    )
  return (
    <>
      <p className="small">
        <Link href={`/bench/units/${tag}/fault`}>Something is wrong that no check has shown?</Link>
      </p>
      {inCommon && <Notice tone="doubt">{inCommon}</Notice>}
    </>
  )
}
