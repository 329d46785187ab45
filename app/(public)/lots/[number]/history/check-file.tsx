'use client'

import { useEffect, useRef, useState } from 'react'
import { PricePathTold } from '#app/_ui/price-path.tsx'
import { checkHistory, type Finding, signedHeads } from '#sale/history/check-history.rules'
import { type History, historyShape } from '#sale/history/history.contract'
import { type HouseKey, houseKeys, signatureHolds } from '../verify-receipt'
import { Findings } from './findings'

interface Looked {
  name: string
  findings: Finding[]
  history: History | null
}

const LOST = { isSound: false, words: 'The history could not be fetched. Check the connection, or choose a file that was kept.' }
const MOST_BYTES = 20_000_000

/** Checks a history in this browser: the house's own, fetched afresh, or a file that somebody kept. The second needs no network at all. */
export function CheckFile({ lot, keys }: { lot: number; keys: readonly string[] }) {
  const [looked, setLooked] = useState<Looked | null>(null)
  const [isBusy, setBusy] = useState(false)
  const file = useRef<HTMLInputElement>(null)
  const ready = useRef<Promise<HouseKey[]> | null>(null)
  // At once, and not when they are needed: a browser without Ed25519 fetches a library for them, and by then the network may be off.
  useEffect(() => {
    ready.current = houseKeys(keys)
  }, [keys])
  const check = async (name: string, read: () => Promise<unknown>) => {
    if (isBusy) return
    setBusy(true)
    try {
      setLooked({ name, ...(await lookAt(await read(), await (ready.current ?? houseKeys(keys)))) })
    } catch (reason) {
      if (!(reason instanceof TypeError || reason instanceof SyntaxError || reason instanceof Unread)) throw reason
      const words =
        reason instanceof SyntaxError
          ? 'This file is not JSON, so it is no history of a lot.'
          : reason instanceof Unread
            ? reason.message
            : LOST.words
      setLooked({ name, findings: [{ isSound: false, words }], history: null })
    } finally {
      setBusy(false)
    }
  }
  const fetched = async () => {
    const answer = await fetch(`/lots/${lot}/history.json`)
    if (!answer.ok) throw new Unread(LOST.words)
    return answer.json() as Promise<unknown>
  }
  const chosen = (picked: File) =>
    check(picked.name, async () => {
      if (picked.size > MOST_BYTES) throw new Unread('This file is too large to be a history.')
      return JSON.parse(await picked.text()) as unknown
    })
  return (
    <div className="stack close">
      <div className="row">
        <button type="button" className="button-line" onClick={() => check('as the house gives it now', fetched)}>
          {isBusy ? 'Checking…' : 'Check it in this browser'}
        </button>
        <button type="button" className="button-line" onClick={() => file.current?.click()}>
          Check a file that I kept
        </button>
        <label className="visually-hidden">
          A history as a file
          <input
            ref={file}
            type="file"
            accept="application/json,.json"
            tabIndex={-1}
            onChange={(event) => {
              const [picked] = event.currentTarget.files ?? []
              if (picked) chosen(picked)
              event.currentTarget.value = ''
            }}
          />
        </label>
      </div>
      <p className="small quiet">
        The page holds all that the check needs, the house’s keys too: once it is open you can switch the network off.
      </p>
      <div role="status">{looked && <Result {...looked} />}</div>
    </div>
  )
}

class Unread extends Error {}

function Result({ name, findings, history }: Looked) {
  const isWhole = findings.every(({ isSound }) => isSound)
  return (
    <div className="stack close">
      <h3>
        {isWhole ? 'It holds' : 'It does not hold'}: {name}
      </h3>
      <Findings findings={findings} />
      {history && <PricePathTold history={history} />}
    </div>
  )
}

async function lookAt(given: unknown, keys: readonly HouseKey[]): Promise<Omit<Looked, 'name'>> {
  const findings = checkHistory(given)
  const read = historyShape.safeParse(given)
  if (!read.success) return { findings, history: null }
  const isSound = await signatureHolds(signedHeads(read.data), keys)
  const words = isSound
    ? `All ${read.data.heads.length} heads carry the house’s signature.`
    : 'A head carries a signature that is not the house’s.'
  return { findings: [...findings, { isSound, words }], history: read.data }
}
