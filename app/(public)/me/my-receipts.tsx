'use client'

import { useEffect, useState } from 'react'
import { knownKeys } from '#app/_trust/known-keys.ts'
import { keepReceipts, keptReceipts, watchLot } from '#app/_trust/receipt-box.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { SaveFile } from '#app/_ui/save-file.tsx'
import type { Receipt } from '#sale/history/history.contract'
import { RECEIPTS_NAME, receiptsFile } from '#sale/history/receipts-file.rules'

type Watch = { contradicted: string[]; unable: string | null; receipts: number; ofOthers: number }

/** The receipts of all that one bid: kept on this device, held against what the house shows now, and saved as one file. */
export function MyReceipts({ given }: { given: Receipt[] }) {
  const [watch, setWatch] = useState<Watch | null>(null)
  useEffect(() => {
    void look(given).then(setWatch)
  }, [given])
  const file = async () => {
    // What the house gives now, and what it gave earlier under the same aliases: others may use this device.
    const own = new Set(given.map(aliasOf))
    const earlier = (await keptReceipts()).filter(
      (one) => own.has(aliasOf(one)) && !given.some(({ checkpoint }) => checkpoint === one.checkpoint),
    )
    const receipts = [...given, ...earlier]
    return { fileName: RECEIPTS_NAME, type: 'application/json', text: receiptsFile(receipts) }
  }
  return (
    <section className="stack close" aria-labelledby="receipts">
      <h2 id="receipts">Your receipts</h2>
      {watch?.contradicted.map((words) => (
        <Notice key={words} tone="bad" live="alert" title="The house shows a different history from the one it showed you">
          <p>{words}</p>
        </Notice>
      ))}
      {watch !== null && watch.ofOthers > 0 && (
        <Notice tone="doubt" title="Some receipts on this device are from another house">
          <p>
            {watch.ofOthers} of them {watch.ofOthers === 1 ? 'is' : 'are'} signed by no key that this house publishes now, so nothing here
            can continue or contradict them. Either another house was at this address when you were given them, or this one no longer
            publishes its old key: ask the maker which, and keep them.
          </p>
        </Notice>
      )}
      <p role="status">
        {watch === null && 'Comparing them with the histories the house shows now…'}
        {watch !== null && watch.contradicted.length === 0 && watch.unable === null && sayKept(watch.receipts)}
        {watch !== null && watch.unable !== null && `They could not be compared now. ${watch.unable}`}
      </p>
      <p>
        <SaveFile ask={file}>Save my receipts</SaveFile>
      </p>
      <p className="small quiet">
        With that file <a href="/check">the checking page</a> can open your own maxima, before and after a lot ends, and compare them with
        the histories that the house shows then: it finds one that leaves out a bid of yours. Whoever has the file can read your maxima.
      </p>
    </section>
  )
}

export const sayKept = (receipts: number): string =>
  receipts === 1
    ? '1 receipt is kept on this device, and the history that the house shows now continues it.'
    : `${receipts} receipts are kept on this device, and the histories that the house shows now continue all of them.`

const aliasOf = ({ opening }: Receipt): string => `${opening.lot} ${opening.alias}`

async function look(given: readonly Receipt[]): Promise<Watch> {
  await keepReceipts(given)
  const kept = await keptReceipts()
  const all = kept.length > 0 ? kept : given
  const { keys, fault } = await knownKeys(Date.now())
  const published = keys.filter(({ isPublished }) => isPublished)
  if (published.length === 0) return { contradicted: [], unable: fault ?? 'The house publishes no key.', receipts: 0, ofOthers: 0 }
  const lots = [...new Set(all.map(({ opening }) => opening.lot))]
  const found = await Promise.all(lots.map((lot) => watchLot(lot, published, all)))
  const sum = (name: 'receipts' | 'ofOthers') => found.reduce((total, one) => total + one[name], 0)
  return {
    contradicted: found.flatMap((one) => (one.is === 'contradicted' ? [one.words] : [])),
    unable: found.find((one) => one.is === 'unable')?.words ?? null,
    receipts: sum('receipts'),
    ofOthers: sum('ofOthers'),
  }
}
