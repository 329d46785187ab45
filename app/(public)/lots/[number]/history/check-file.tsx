'use client'

import { useEffect, useRef, useState } from 'react'
import { PricePathTold } from '#app/_ui/price-path.tsx'
import { JsonFault, readStrictJson } from '#kernel/strict-json'
import { checkHistory, type Finding, signedHeads } from '#sale/history/check-history.rules'
import { compareWithShown as compareKept, type NamedHistory } from '#sale/history/compare.rules'
import { type History, historyShape } from '#sale/history/history.contract'
import { type HouseKey, houseKeys, signatureHolds } from '../verify-receipt'
import { Findings } from './findings'

interface Looked {
  name: string
  findings: Finding[]
  history: History | null
  /** What could not be looked at. */
  aside?: string
}

const LOST = { isSound: false, words: 'The history could not be fetched. Check your connection, or choose a file you kept.' }
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
  const check = async (name: string, look: () => Promise<Omit<Looked, 'name'>>) => {
    if (isBusy) return
    setBusy(true)
    try {
      setLooked({ name, ...(await look()) })
    } catch (reason) {
      setLooked({ name, findings: [{ isSound: false, words: whyUnread(reason) }], history: null })
    } finally {
      setBusy(false)
    }
  }
  const lookWithKeys = async (given: unknown) => lookAt(given, await (ready.current ?? houseKeys(keys)))
  const chosen = (picked: File) =>
    check(picked.name, async () => {
      if (picked.size > MOST_BYTES) throw new Unread('This file is too large to be a history.')
      const found = await lookWithKeys(readStrictJson(await picked.text()))
      return found.history
        ? { ...found, ...(await compareWithShown({ name: picked.name, history: found.history }, lot, found.findings)) }
        : found
    })
  return (
    <div className="stack close">
      <div className="row">
        <button
          type="button"
          className="button-line"
          onClick={() => check('as the house gives it now', async () => lookWithKeys(await fetched(lot)))}
        >
          {isBusy ? 'Checking…' : 'Check it in this browser'}
        </button>
        <button type="button" className="button-line" onClick={() => file.current?.click()}>
          Check a file I kept
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
        This page holds everything the check needs, including the house’s keys: once it is open you can go offline.
      </p>
      <div role="status">{looked && <Result {...looked} />}</div>
    </div>
  )
}

class Unread extends Error {}

function whyUnread(reason: unknown): string {
  if (reason instanceof JsonFault) return `This file is not the history of a lot. ${reason.message}`
  if (reason instanceof Unread) return reason.message
  if (reason instanceof TypeError) return LOST.words
  throw reason
}

async function fetched(lot: number): Promise<unknown> {
  const answer = await fetch(`/lots/${lot}/history.json`, { cache: 'no-store' })
  if (answer.status === 404) throw new Unread(`The house shows no history of lot ${lot} now. Keep the file if you have one.`)
  if (!answer.ok) throw new Unread(LOST.words)
  return readStrictJson(await answer.text())
}

/** A file that holds by itself may still be another history than the one that everybody else is shown. */
async function compareWithShown(kept: NamedHistory, lot: number, findings: Finding[]): Promise<Pick<Looked, 'findings' | 'aside'>> {
  try {
    const shown = historyShape.safeParse(await fetched(lot))
    if (!shown.success) return { findings, aside: 'What the house shows now is not the history of a lot, so nothing could be compared.' }
    const { is, words } = compareKept(kept, { name: 'What the house shows now', history: shown.data })
    return { findings: [...findings, { isSound: is === 'same' || is === 'beginning', words }] }
  } catch (reason) {
    return { findings, aside: `It was not compared with what the house shows now. ${whyUnread(reason)}` }
  }
}

function Result({ name, findings, history, aside }: Looked) {
  const isWhole = findings.every(({ isSound }) => isSound)
  return (
    <div className="stack close">
      <h3>
        {isWhole ? 'It holds' : 'It does not hold'}: {name}
      </h3>
      <Findings findings={findings} />
      {aside && <p>{aside}</p>}
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
