'use client'

import { useState } from 'react'
import { checkHistory, type Finding, signedHeads } from '../../../../../server/bidding/check-history.rules'
import { type History, historyShape } from '../../../../../server/bidding/history.contract'
import { signatureHolds } from '../verify-receipt'
import { Findings } from './findings'

const LOST = { holds: false, words: 'The history could not be fetched. Check the connection and try again.' }

/** Fetches the history and the keys afresh and checks all of it in this browser, signatures too. */
export function CheckHere({ lot }: { lot: number }) {
  const [findings, setFindings] = useState<Finding[] | null>(null)
  const [isBusy, setBusy] = useState(false)
  const check = async () => {
    if (isBusy) return
    setBusy(true)
    setFindings(await checkAfresh(lot))
    setBusy(false)
  }
  return (
    <div className="stack close">
      <div>
        <button type="button" className="button-line" onClick={check}>
          {isBusy ? 'Checking…' : 'Check it in this browser'}
        </button>
      </div>
      <div role="status">{findings && <Findings findings={findings} />}</div>
    </div>
  )
}

async function checkAfresh(lot: number): Promise<Finding[]> {
  try {
    const answer = await fetch(`/lots/${lot}/history.json`)
    if (!answer.ok) return [LOST]
    const history: unknown = await answer.json()
    const findings = checkHistory(history)
    const read = historyShape.safeParse(history)
    return read.success ? [...findings.map(inThisBrowser), await checkSignatures(read.data)] : findings
  } catch (reason) {
    if (reason instanceof TypeError) return [LOST]
    throw reason
  }
}

const inThisBrowser = ({ holds, words }: Finding): Finding => ({ holds, words: `In this browser: ${words}` })

async function checkSignatures(history: History): Promise<Finding> {
  const holds = await signatureHolds(signedHeads(history))
  if (holds === null)
    return { holds: true, words: 'This browser cannot verify the signatures: it knows no Ed25519, or the page came without TLS.' }
  return holds
    ? { holds, words: `All ${history.heads.length} heads carry the house’s signature.` }
    : { holds, words: 'A head carries a signature that is not the house’s.' }
}
