import Link from 'next/link'
import type { BringupView } from '../../../../../server/bringup/bringup.contract'
import { sharedWords } from '../../../../../server/faults/shared.rules'
import { Notice } from '../../../../_ui/notice'

/** A fault that is open, with the way to where to look next; and what failed on other units of the run as well. */
export function FaultNotice({ view }: { view: BringupView }) {
  const { tag, fault, shared } = view
  const run = tag.replace(/-\d+$/, '')
  return (
    <>
      {fault === null ? (
        <p className="small">
          <Link href={`/bench/units/${tag}/fault`}>Something is wrong that no check has shown?</Link>
        </p>
      ) : (
        <Notice tone="bad" title={`A fault is open: ${fault}`}>
          <p>
            <Link href={`/bench/units/${tag}/fault`}>Where to look next</Link>
          </p>
        </Notice>
      )}
      {shared.length > 0 && (
        <Notice tone="doubt" title={`${shared.map(sharedWords).join('. ')}.`}>
          <p>
            The same check failing twice in a run points at something common.{' '}
            <Link href={`/bench/runs/${run}`}>Look for it in the run</Link>
          </p>
        </Notice>
      )}
    </>
  )
}
